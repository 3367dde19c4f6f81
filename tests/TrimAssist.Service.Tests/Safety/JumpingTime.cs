namespace TrimAssist.Service.Tests.Safety;

/// <summary>Another clock, with a wall clock that somebody sets while the service runs, and a steady one that a test may put forward.</summary>
internal sealed class JumpingTime(TimeProvider clock) : TimeProvider
{
    private long _forward;

    public TimeSpan WallClockOff { get; set; }

    public override long TimestampFrequency => clock.TimestampFrequency;

    public override DateTimeOffset GetUtcNow() => clock.GetUtcNow() + WallClockOff;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => clock.CreateTimer(callback, state, dueTime, period);

    public override long GetTimestamp() => clock.GetTimestamp() + Interlocked.Read(ref _forward);

    public void Forward(TimeSpan time) => Interlocked.Add(ref _forward, (long)(time.TotalSeconds * TimestampFrequency));
}
