namespace TrimAssist.Service.Surfaces;

/// <summary>Something that a surface shows in one place, and since when it has been shown there unchanged.</summary>
internal sealed class SteadyThing<T>
    where T : class
{
    private TimeSpan? _since;

    /// <summary>What stands there; <see langword="null"/> for nothing.</summary>
    public T? Thing { get; private set; }

    /// <summary>Puts something there.</summary>
    /// <param name="thing">What stands there from now on.</param>
    /// <param name="isSame">Whether whoever looks sees no difference to what stood there.</param>
    public void Put(T? thing, bool isSame)
    {
        _since = isSame ? _since : null;
        Thing = thing;
    }

    /// <summary>A picture of it has left for the surface.</summary>
    public void Left(TimeSpan now) => _since ??= now;

    /// <summary>No picture can be sent: what was seen last is no longer known.</summary>
    public void NotLeft() => _since = null;

    /// <summary>Whether it has been shown unchanged for a while.</summary>
    public bool IsSteady(TimeSpan now, TimeSpan steady) => Thing is not null && _since is { } since && now - since >= steady;
}
