namespace TrimAssist.Desk.Link.Transport;

/// <summary>
/// How long to wait before the next try to connect: twice as long each time up to a bound, each time a little off, so that many
/// services do not come back to one desk at the same moment.
/// </summary>
/// <param name="chance">Gives numbers from 0 to under 1.</param>
internal sealed class ReconnectPace(Func<double> chance)
{
    /// <summary>The first wait, in seconds.</summary>
    public const double FirstS = 0.25;

    /// <summary>The longest wait, in seconds, before the jitter.</summary>
    public const double LongestS = 5;

    /// <summary>How far the jitter goes, as a share of the wait.</summary>
    public const double Jitter = 0.25;

    private double _next = FirstS;

    /// <summary>The next wait, in seconds.</summary>
    public double Next()
    {
        var wait = _next * (1 + (Jitter * ((2 * chance()) - 1)));
        _next = Math.Min(2 * _next, LongestS);
        return wait;
    }

    /// <summary>A connection has held: the next wait is short again.</summary>
    public void Reset() => _next = FirstS;
}
