using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Samples;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio.MeterModel;

/// <summary>Turns samples into what a desk would send: peak and RMS of every input, frame by frame.</summary>
/// <remarks>Channel n of the samples (from 0) is input n + 1. Only the peak falls back at <see cref="MeterTraits.ReleaseDbPerS"/>; RMS is each frame's own. One caller at a time; nothing is allocated per frame.</remarks>
public sealed class DeskMeters
{
    private readonly MeterTraits _traits;
    private readonly FrameClock _clock;
    private readonly LevelAccumulator[] _frames;
    private readonly FallBackMeter[] _meters;
    private readonly int _sampleRate;

    /// <summary>Meters at rest.</summary>
    /// <param name="traits">How the desk's meters behave.</param>
    /// <param name="sampleRate">Samples per second.</param>
    /// <param name="channels">Number of inputs.</param>
    /// <exception cref="ArgumentOutOfRangeException">A frame would be shorter than one sample.</exception>
    public DeskMeters(MeterTraits traits, int sampleRate, int channels)
    {
        ArgumentNullException.ThrowIfNull(traits);
        _traits = traits;
        _sampleRate = sampleRate;
        _clock = new FrameClock(traits.FrameS, sampleRate);
        _frames = new LevelAccumulator[channels];
        _meters = [.. Enumerable.Range(0, channels).Select(_ => new FallBackMeter(traits.ReleaseDbPerS))];
    }

    /// <summary>Hears a block and tells every reading that it completes, frame after frame and within a frame input after input.</summary>
    public void Hear(SampleBlock block, Action<MeterReading> tell)
    {
        ArgumentNullException.ThrowIfNull(block);
        ArgumentNullException.ThrowIfNull(tell);
        var taken = 0;
        while (taken < block.Frames)
        {
            var part = Math.Min(block.Frames - taken, _clock.Missing);
            for (var channel = 0; channel < _frames.Length; channel++)
                _frames[channel].Hear(block.Channel(channel).Slice(taken, part));
            if (_clock.Advance(part))
                Tell(_traits.FrameS, tell);
            taken += part;
        }
    }

    /// <summary>Tells the last frame where the samples ended inside it; its time is then the samples' end.</summary>
    public void Finish(Action<MeterReading> tell)
    {
        ArgumentNullException.ThrowIfNull(tell);
        if (_clock.Begun > 0)
            Tell((double)_clock.Begun / _sampleRate, tell);
    }

    private void Tell(double frameS, Action<MeterReading> tell)
    {
        for (var channel = 0; channel < _frames.Length; channel++)
        {
            ref var frame = ref _frames[channel];
            var shown = _meters[channel].Show(Level.OfPeak(frame.PeakMagnitude).Value, frameS);
            tell(new MeterReading(channel + 1, _clock.NowS, (float)shown, (float)(frame.Rms?.Value ?? double.NaN)));
            frame.Reset();
        }
    }
}
