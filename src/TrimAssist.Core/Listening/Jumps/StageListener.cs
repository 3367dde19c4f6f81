using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Watches every input of a desk for pops, crackle, steps, overloads, feedback, drop-outs and rising noise, frame by frame, and knows what
/// all inputs did at once. Allocates nothing after construction.
/// </summary>
/// <remarks>
/// A first word is out with the frame that jumped; within half a second a later word of the same id confirms, names or withdraws it. Read
/// offline, only what was not withdrawn counts.
/// </remarks>
public sealed class StageListener
{
    private readonly JumpListener[] _inputs;

    /// <summary>Makes listeners for inputs 1 to <paramref name="inputs"/>.</summary>
    public StageListener(int inputs, MeterTraits traits) : this(inputs, new JumpOptions(traits))
    {
    }

    /// <summary>Makes listeners for inputs 1 to <paramref name="inputs"/>.</summary>
    public StageListener(int inputs, JumpOptions options)
    {
        var clock = new FrameClock(options.Meter.FrameS);
        var (stage, voice) = (new Coherence(clock.PooledS), new Voice());
        _inputs = [.. Enumerable.Range(1, inputs).Select(input => new JumpListener(input, options, clock, stage, voice))];
    }

    /// <summary>Hears one reading. Readings without a peak, out of order, or of an unknown input say nothing.</summary>
    public void Observe(in MeterReading reading, FindingRing found)
    {
        if ((uint)(reading.Input - 1) < (uint)_inputs.Length)
            _inputs[reading.Input - 1].Observe(reading, found);
    }

    /// <summary>Takes in that the desk's own overload flag of an input is up, once for each frame in which it is.</summary>
    public void OverloadFlagged(int input, double timeS, FindingRing found)
    {
        if ((uint)(input - 1) < (uint)_inputs.Length && double.IsFinite(timeS))
            _inputs[input - 1].OverloadFlagged(timeS, found);
    }

    /// <summary>Takes note that somebody changed an input at the desk: the jump that follows is no event.</summary>
    /// <param name="input">The input.</param>
    /// <param name="timeS">When, in the readings' time.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap from now on.</param>
    /// <param name="muted">Whether the input is muted now; <see langword="null"/> where that did not change.</param>
    public void SettingsChanged(int input, double timeS, double fullScaleDbfs, bool? muted = null)
    {
        if ((uint)(input - 1) < (uint)_inputs.Length)
            _inputs[input - 1].SettingsChanged(timeS, muted, fullScaleDbfs);
    }

    /// <summary>Says how loud an input is expected to get: what is louder for more than a moment is hot.</summary>
    /// <param name="input">The input.</param>
    /// <param name="highestDbfs">The highest level expected at the present gain; NaN where nothing is known.</param>
    public void Expect(int input, float highestDbfs)
    {
        if ((uint)(input - 1) < (uint)_inputs.Length)
            _inputs[input - 1].HighestExpectedDbfs = highestDbfs;
    }

    /// <summary>Shows what every judged rise of an input weighed, for those who fit the weights; costs nothing where nobody asks.</summary>
    public void TraceInto(int input, RiseTrace trace) => _inputs[input - 1].Trace = trace;
}
