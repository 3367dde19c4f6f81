namespace TrimAssist.Service.Tests.Safety;

/// <summary>The real clocks, with a wall clock that somebody sets while the service runs.</summary>
internal sealed class JumpingTime : TimeProvider
{
    public TimeSpan WallClockOff { get; set; }

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow() + WallClockOff;
}
