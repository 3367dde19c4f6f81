namespace TrimAssist.Service.Tests.Safety;

/// <summary>The real clocks, with a wall clock that somebody sets while the service runs, and a steady one that a test may put forward.</summary>
internal sealed class JumpingTime : TimeProvider
{
    private long _forward;

    public TimeSpan WallClockOff { get; set; }

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + WallClockOff;

    public override long GetTimestamp() => System.GetTimestamp() + Interlocked.Read(ref _forward);

    public void Forward(TimeSpan time) => Interlocked.Add(ref _forward, (long)(time.TotalSeconds * TimestampFrequency));
}
