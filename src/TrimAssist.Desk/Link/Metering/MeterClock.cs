namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// The time of one input's meter frames from one source. Arrivals jitter, are lost, doubled, delayed in heaps; the desk's frames are even.
/// A small phase-locked loop follows the desk's pace; time never runs backwards.
/// </summary>
/// <remarks>A mutable struct in an array: the hot path.</remarks>
internal struct MeterClock
{
    /// <summary>A longer pause is an outage, told by the link's state, and no loss of frames.</summary>
    public const double OutageS = 5;

    // Share of the arrival's error taken into the time: quick at first, then slow enough to smooth jitter of a third of a frame, yet
    // fast enough to follow a drifting clock.
    private const double FollowAtFirst = 0.25;
    private const double Follow = 0.05;
    private const int AtFirst = 16;
    private const double LateStep = 1.0 / 16;
    private double _arrival;
    private float _value;
    private ulong _tag;
    private int _owed;
    private bool _running;

    /// <summary>The end of the current frame.</summary>
    public double Time { get; private set; }

    /// <summary>Frames that went missing.</summary>
    public int Lost { get; private set; }

    /// <summary>Frames that came.</summary>
    public int Frames { get; private set; }

    /// <summary>Takes in a frame.</summary>
    /// <param name="at">When it arrived, or when its time tag says that it was sent.</param>
    /// <param name="tag">The desk's time tag; 0 where there is none to lean on.</param>
    /// <param name="value">The frame's value, by which a doubled datagram is told from a new frame.</param>
    /// <param name="frameS">The length of a frame.</param>
    /// <returns><see langword="false"/> for a frame that was heard already or comes after a later one.</returns>
    public bool TryAdvance(double at, ulong tag, float value, double frameS)
    {
        if (_running && !IsNew(at, tag, value, frameS))
            return false;

        Frames++;
        if (!_running || at - Time > OutageS)
            Time = Math.Max(at, Time);
        else if (_owed > 0 && at - _arrival < frameS / 2)
            TakeLate(frameS);
        else
            Step(at, frameS);
        (_running, _arrival, _tag, _value) = (true, Math.Max(at, _arrival), tag, value);
        return true;
    }

    private bool IsNew(double at, ulong tag, float value, double frameS)
    {
        if (tag != 0 && _tag != 0)
            return tag > _tag;

        // Without a time tag a second datagram of the same value, much too early for a new frame, is the same one again.
        var again = at - _arrival < 0.4 * frameS && BitConverter.SingleToInt32Bits(value) == BitConverter.SingleToInt32Bits(_value);
        if (again && _owed > 0)
            (_owed, Lost) = (_owed - 1, Lost - 1);
        return !again;
    }

    // Frames that were counted as lost come in a heap: they fill the gap, and time hardly moves.
    private void TakeLate(double frameS)
    {
        _owed--;
        Lost--;
        Time += LateStep * frameS;
    }

    private void Step(double at, double frameS)
    {
        var steps = Math.Max(1, (int)Math.Round((at - Time) / frameS));
        var error = at - (Time + (steps * frameS));
        Lost += steps - 1;
        _owed = steps - 1;
        Time += error < -2 * frameS ? LateStep * frameS : (steps * frameS) + ((Frames < AtFirst ? FollowAtFirst : Follow) * error);
    }
}
