namespace TrimAssist.Service.Tests.Safety;

/// <summary>A steady clock that only a test moves, and a wall clock that it may set.</summary>
internal sealed class HistoryTime : TimeProvider
{
    private static readonly DateTimeOffset Evening = new(2026, 7, 25, 20, 0, 0, TimeSpan.Zero);

    private TimeSpan _wallOff;

    public TimeSpan Elapsed { get; private set; }

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public void Forward(TimeSpan time) => Elapsed += time;

    public void Set(TimeSpan by) => _wallOff += by;

    public override DateTimeOffset GetUtcNow() => Evening + Elapsed + _wallOff;

    // Zero means never to whoever keeps a timestamp.
    public override long GetTimestamp() => Elapsed.Ticks + 1;
}
