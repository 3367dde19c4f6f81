namespace TrimAssist.Service.Clocks;

/// <summary>
/// Stamps every picture of a desk with the moment at which the service took it. A confirmation that names the stamp of the picture
/// it was made from cannot look younger than it is, however long the network held it up.
/// </summary>
/// <param name="time">The clock.</param>
public sealed class PictureClock(TimeProvider time)
{
    private readonly long _began = time.GetTimestamp();

    // Each run counts from a number of its own, so that a stamp of another is not taken for one of this. Browsers hold whole numbers to 2^53.
    private readonly long _first = Random.Shared.NextInt64(1L << 52);

    /// <summary>The stamp of a picture taken now: milliseconds that only grow while the service runs, whatever the wall clock does.</summary>
    public long Stamp() => _first + (long)time.GetElapsedTime(_began).TotalMilliseconds;

    /// <summary>How old the picture with this stamp is; <see langword="null"/> for a stamp of before this run, or still to come: it is another run's.</summary>
    public TimeSpan? AgeOf(long stamp) => stamp >= _first && Stamp() - stamp is >= 0 and <= int.MaxValue and var age ? TimeSpan.FromMilliseconds(age) : null;
}
