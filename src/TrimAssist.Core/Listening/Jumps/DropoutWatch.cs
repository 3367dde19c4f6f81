namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Sees a signal vanish: within a frame or two it falls far below anything this input reaches while it is connected.</summary>
internal sealed class DropoutWatch(LevelHistory history)
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

    /// <summary>With a noise that stands still for <see cref="SettledS"/> this much below, and this great a step, are enough.</summary>
    private const float SettledBelowDb = 7;

    private const float SettledStepDb = 9;
    private const double SettledS = 0.15;

    /// <summary>Before so many seconds an input's rest is not known well enough.</summary>
    private const int KnownAfterS = 3;

    /// <summary>Electronics make white noise: its RMS stands within this, and its peaks lie this far above.</summary>
    private const float SettledSpreadDb = 1;

    private const float NoiseCrestDb = 9.4f;

    /// <summary>How long a low level is taken for a fault before it is taken for the input's new rest.</summary>
    private const double NewRestAfterS = 5;

    private readonly RestFloor _floor = new(history.FrameS);
    private double _lowSinceS = double.PositiveInfinity;

    /// <summary>Whether the signal is away now.</summary>
    public bool Away { get; private set; }

    /// <summary>How far it fell in dB.</summary>
    public float FellDb { get; private set; }

    public void Clear()
    {
        _floor.Clear();
        Away = false;
    }

    /// <summary>Looks at the newest frame; true when the signal has just vanished.</summary>
    public bool Look(double timeS)
    {
        var now = history.Peak(0);
        var floor = _floor.Dbfs;
        var low = !float.IsNaN(floor) && now < floor - NearDb;
        _lowSinceS = low ? Math.Min(_lowSinceS, timeS) : double.PositiveInfinity;
        var fault = low && timeS - _lowSinceS < NewRestAfterS;
        if (!fault)
            _floor.Add(now);
        if (Away && now > floor - NearDb)
            Away = false;
        if (!low || Away || _floor.HeardS < KnownAfterS)
            return false;
        if (!HasVanished(floor, now) && !HasSettled(floor))
            return false;
        Away = true;
        return true;
    }

    private bool HasVanished(float floor, float now)
    {
        var second = history.Frames(0.05);
        var atOnce = now <= floor - AtOnceBelowDb && history.Peak(1) >= floor - NearDb;
        var held = history.FrameS < LongFrameS && now <= floor - HeldBelowDb && history.Highest(0, second + 1) <= floor - HeldBelowDb
            && Math.Abs(now - history.Peak(second)) < StandsDb && history.Peak(second + 1) >= floor - NearDb;
        if (!atOnce && !held)
            return false;
        var from = atOnce ? 1 : second + 1;
        var before = history.Peak(from);
        FellDb = before - now;
        var falling = Math.Max(history.Peak(from + 1), history.Peak(from + history.Frames(0.15))) - before;
        return FellDb >= StepDb && falling <= FellDb * FallingShare;
    }

    private bool HasSettled(float floor)
    {
        var settled = history.Frames(SettledS);
        if (!history.HasRms || history.FrameS >= LongFrameS || !history.Holds(0, settled + 4)
            || history.RmsSpread(0, settled) >= SettledSpreadDb || history.Highest(0, settled) >= floor - SettledBelowDb)
        {
            return false;
        }

        var (level, crest) = (0f, 0f);
        for (var b = 0; b < settled; b++)
        {
            level += history.Rms(b) / settled;
            crest += history.Crest(b) / settled;
        }

        // the frame in which the signal went holds some of both: the one before it is the last that says what was there
        var before = history.Rms(settled + 1);
        FellDb = before - level;
        var falling = Math.Max(history.Rms(settled + 2), history.Rms(settled + settled)) - before;
        return crest > NoiseCrestDb && FellDb >= SettledStepDb && falling <= FellDb * FallingShare;
    }
}
