namespace TrimAssist.Service.Clocks;

/// <summary>A clock that moves only when it is told: a fast demo and a replay live on it. Timers fire while it is moved.</summary>
internal sealed class SteppedTime(DateTimeOffset start) : TimeProvider
{
    private readonly Lock _gate = new();
    private readonly List<SteppedTimer> _timers = [];
    private long _ticks;

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <inheritdoc/>
    public override long GetTimestamp() => Interlocked.Read(ref _ticks);

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => start.AddTicks(GetTimestamp());

    /// <inheritdoc/>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new SteppedTimer(this, callback, state);
        timer.Change(dueTime, period);
        lock (_gate)
            _timers.Add(timer);
        return timer;
    }

    /// <summary>Moves the clock on and fires what has become due, in order.</summary>
    public void Advance(TimeSpan step)
    {
        var now = Interlocked.Add(ref _ticks, step.Ticks);
        List<SteppedTimer> due;
        lock (_gate)
            due = [.. _timers.Where(timer => timer.DueAt <= now).OrderBy(timer => timer.DueAt)];
        foreach (var timer in due)
            timer.Fire(now);
    }

    private void Remove(SteppedTimer timer)
    {
        lock (_gate)
            _timers.Remove(timer);
    }

    private sealed class SteppedTimer(SteppedTime clock, TimerCallback callback, object? state) : ITimer
    {
        private TimeSpan _period;
        private long _dueAt = long.MaxValue;

        public long DueAt => Interlocked.Read(ref _dueAt);

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            _period = period;
            Interlocked.Exchange(ref _dueAt, dueTime == Timeout.InfiniteTimeSpan ? long.MaxValue : clock.GetTimestamp() + dueTime.Ticks);
            return true;
        }

        public void Fire(long now)
        {
            Interlocked.Exchange(ref _dueAt, _period > TimeSpan.Zero ? now + _period.Ticks : long.MaxValue);
            callback(state);
        }

        public void Dispose() => clock.Remove(this);

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
