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

    /// <summary>The least step down; a discharging capacitor makes smaller ones.</summary>
    private const float StepDb = 12;

    /// <summary>After a second look the level must stand still within this.</summary>
    private const float StandsDb = 3;

    /// <summary>How long a low level is taken for a fault before it is taken for the input's new rest.</summary>
    private const double NewRestAfterS = 3;

    private readonly RestFloor _floor = new(history.FrameS);
    private double _sinceS = double.NegativeInfinity;
    private float _before;

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
        var low = !float.IsNaN(floor) && now < floor - (HeldBelowDb - 2);
        var fault = low && timeS - _sinceS < NewRestAfterS;
        if (!fault)
            _floor.Add(now);
        if (Away && now > floor - NearDb)
            Away = false;
        if (!low || Away)
            return false;
        var second = history.Frames(0.05);
        var atOnce = now <= floor - AtOnceBelowDb && history.Peak(1) >= floor - NearDb;
        var held = now <= floor - HeldBelowDb && history.Highest(0, second + 1) <= floor - HeldBelowDb
            && Math.Abs(now - history.Peak(second)) < StandsDb && history.Peak(second + 1) >= floor - NearDb;
        if (!atOnce && !held)
            return false;
        var from = atOnce ? 1 : second + 1;
        _before = history.Highest(from, 2);
        FellDb = _before - now;
        if (FellDb < StepDb)
            return false;
        _sinceS = timeS;
        Away = true;
        return true;
    }
}
