namespace TrimAssist.Acceptance.Page;

/// <summary>The real clock, or a faster one while a test waits for playing: service and desk share it, so neither notices.</summary>
internal sealed class HurriedTime : TimeProvider
{
    private readonly Lock _gate = new();
    private readonly DateTimeOffset _start = System.GetUtcNow();
    private long _changedAt = System.GetTimestamp();
    private long _ticks;
    private double _pace = 1;

    /// <summary>How many seconds pass in a real one, from now on.</summary>
    public double Pace
    {
        get
        {
            lock (_gate)
                return _pace;
        }

        set
        {
            lock (_gate)
                (_ticks, _changedAt, _pace) = (TicksNow(), System.GetTimestamp(), value);
        }
    }

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp()
    {
        lock (_gate)
            return TicksNow();
    }

    public override DateTimeOffset GetUtcNow() => _start.AddTicks(GetTimestamp());

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new HurriedTimer(this, callback, state);
        timer.Change(dueTime, period);
        return timer;
    }

    private long TicksNow() => _ticks + (long)(System.GetElapsedTime(_changedAt).Ticks * _pace);

    private sealed class HurriedTimer : ITimer
    {
        private readonly HurriedTime _time;
        private readonly ITimer _timer;
        private TimeSpan _period = Timeout.InfiniteTimeSpan;

        public HurriedTimer(HurriedTime time, TimerCallback callback, object? state)
        {
            _time = time;
            _timer = System.CreateTimer(
                _ =>
                {
                    Arm(_period);
                    callback(state);
                },
                null,
                Timeout.InfiniteTimeSpan,
                Timeout.InfiniteTimeSpan);
        }

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            _period = period > TimeSpan.Zero ? period : Timeout.InfiniteTimeSpan;
            return Arm(dueTime);
        }

        public void Dispose() => _timer.Dispose();

        public ValueTask DisposeAsync() => _timer.DisposeAsync();

        private bool Arm(TimeSpan due) =>
            _timer.Change(due == Timeout.InfiniteTimeSpan ? due : due / _time.Pace, Timeout.InfiniteTimeSpan);
    }
}
