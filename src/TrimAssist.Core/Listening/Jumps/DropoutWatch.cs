namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Sees a signal vanish: it falls far below anything this input reaches while it is connected, leaves a rest that stood still, or ends on
/// the noise of the electronics alone.
/// </summary>
internal sealed class DropoutWatch(RecentReadings history)
{
    /// <summary>Nothing acoustic falls this far below the input's own rest within one frame.</summary>
    private const float AtOnceBelowDb = 15;

    /// <summary>With a second look this much below is enough.</summary>
    private const float HeldBelowDb = 8;

    /// <summary>It must have been at rest or playing just before: this near the floor, or above.</summary>
    private const float NearDb = 3;

    /// <summary>What was falling already by this share of the step is a note that ends or a capacitor that discharges.</summary>
    private const float FallingShare = 0.4f;

    /// <summary>The least step down.</summary>
    private const float StepDb = 12;

    /// <summary>After a second look the level must stand still within this.</summary>
    private const float StandsDb = 3;

    /// <summary>In frames this long a note's end looks like a drop-out; only the depth tells.</summary>
    private const double LongFrameS = 0.07;

    /// <summary>Before so many seconds an input's rest is not known well enough.</summary>
    private const double KnownAfterS = 3;

    /// <summary>Peaks of white noise lie this far above its RMS in frames of 20 to 100 ms.</summary>
    private const float LeastNoiseCrestDb = 9.4f;

    private const float MostNoiseCrestDb = 11.2f;

    /// <summary>How long little but noise must be left, how even, how far below anything heard, and how far below what was there.</summary>
    private const double NoiseAloneS = 0.15;

    private const float EvenDb = 1;
    private const float NoiseBelowDb = 7;
    private const float NoiseStepDb = 9;

    /// <summary>A rest that stood still for <see cref="RestedS"/> and falls by this much has lost its source: what makes noise does not stop.</summary>
    private const float LeavesRestDb = 7;

    private const double RestedS = 0.5;

    /// <summary>A step of just these sizes, within <see cref="PadBlurDb"/>, from a rest that stood still is a pad put in.</summary>
    private const float PadDb = 10;

    private const float PadBlurDb = 0.6f;

    /// <summary>How long a low level is taken for a fault before it is taken for the input's new rest.</summary>
    private const double NewRestAfterS = 5;

    private readonly RestFloor _floor = new(history.FrameS);
    private readonly float _stationaryDb = StationaryNoise.SpreadDb(history.FrameS);
    private readonly int _second = history.Frames(0.05);
    private readonly int _alone = history.Frames(NoiseAloneS);
    private readonly int _gone = Math.Max(2, history.Frames(0.1));
    private readonly int _rested = Math.Max(5, history.Frames(RestedS));
    private double _lowSinceS = double.PositiveInfinity;
    private float _leftRest = float.NaN;

    /// <summary>Whether the signal is away now.</summary>
    public bool Away { get; private set; }

    /// <summary>How far it fell in dB.</summary>
    public float FellDb { get; private set; }

    public void Clear()
    {
        _floor.Clear();
        (Away, _leftRest) = (false, float.NaN);
    }

    /// <summary>Looks at the newest frame; true when the signal has just vanished.</summary>
    public bool Look(double timeS)
    {
        var (peak, rms) = (history.Peak(0), history.Rms(0));
        var low = peak < _floor.Dbfs - NearDb;
        _lowSinceS = low ? Math.Min(_lowSinceS, timeS) : double.PositiveInfinity;
        if (!low || timeS - _lowSinceS >= NewRestAfterS)
            _floor.Add(peak);

        if (Away)
        {
            Away = float.IsNaN(_leftRest) ? low : rms < _leftRest - NearDb && timeS - _lowSinceS < NewRestAfterS;
            return false;
        }

        if (_floor.HeardS < KnownAfterS || !(Vanished(peak) || (history.HasRms && (FellSilent(_floor.Dbfs) || LeftRest()))))
            return false;
        Away = true;
        return true;
    }

    private bool Vanished(float now)
    {
        var floor = _floor.Dbfs;
        if (!(now < floor - HeldBelowDb))
            return false;
        var atOnce = now <= floor - AtOnceBelowDb && history.Peak(1) >= floor - NearDb;
        var held = history.FrameS < LongFrameS && history.Highest(0, _second + 1) <= floor - HeldBelowDb
            && Math.Abs(now - history.Peak(_second)) < StandsDb && history.Peak(_second + 1) >= floor - NearDb;
        if (!atOnce && !held)
            return false;
        var from = atOnce ? 1 : _second + 1;
        var before = history.Peak(from);
        (FellDb, _leftRest) = (before - now, float.NaN);
        var falling = Math.Max(history.Peak(from + 1), history.Peak(from + history.Frames(0.15))) - before;
        return FellDb >= StepDb && falling <= FellDb * FallingShare;
    }

    /// <summary>Little but noise is left, below anything heard: no stage is as even as that.</summary>
    private bool FellSilent(float floor)
    {
        // the cheap question first: hardly any frame lies so low
        if (history.Peak(0) >= floor - NoiseBelowDb || history.FrameS >= LongFrameS || !history.Holds(0, (2 * _alone) + 1)
            || history.Highest(0, _alone) >= floor - NoiseBelowDb || history.RmsSpread(0, _alone) >= EvenDb)
        {
            return false;
        }

        // the frame in which the signal went holds some of both: the one before it is the last that says what was there
        var (level, before) = (history.MeanRms(0, _alone), history.Rms(_alone + 1));
        (FellDb, _leftRest) = (before - level, float.NaN);
        var falling = Math.Max(history.Rms(_alone + 2), history.Rms(2 * _alone)) - before;
        return history.MeanCrest(0, _alone) > LeastNoiseCrestDb && FellDb >= NoiseStepDb && falling <= FellDb * FallingShare;
    }

    private bool LeftRest()
    {
        // the frame in which the rest was left holds some of both
        var before = _gone + 1;
        if (history.FrameS >= LongFrameS || history.Rms(0) > history.Rms(before) - LeavesRestDb || !history.Holds(0, before + _rested) || !IsNoise(before, _rested))
            return false;
        var rest = history.MeanRms(before, _rested);
        for (var b = 0; b < _gone; b++)
        {
            if (history.Rms(b) > rest - LeavesRestDb)
                return false;
        }

        (FellDb, _leftRest) = (rest - history.MeanRms(0, _gone), rest);
        return history.RmsSpread(0, _gone) < StandsDb && Math.Abs(FellDb - PadDb) > PadBlurDb && Math.Abs(FellDb - (2 * PadDb)) > PadBlurDb;
    }

    private bool IsNoise(int back, int frames) =>
        history.RmsSpread(back, frames) < _stationaryDb && history.MeanCrest(back, frames) is > LeastNoiseCrestDb and < MostNoiseCrestDb;
}
