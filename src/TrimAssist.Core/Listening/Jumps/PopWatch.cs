using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What the pop watch makes of a frame.</summary>
internal enum PopWord
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>A bang: said in the very frame in which it came.</summary>
    Raised,

    /// <summary>It went on: it was playing after all.</summary>
    Withdrawn,
}

/// <summary>
/// Tells a bang (a plug, phantom power) on one input from playing. A bang stands far above everything just heard, its energy
/// is short (peak far over RMS) and it is gone at once; a note stays. The first word is out in the bang's own frame, the next
/// tenths of a second may take it back.
/// </summary>
internal sealed class PopWatch(double frameS)
{
    /// <summary>Over a resting input a bang rises at least this far above the last second.</summary>
    private const double RestRiseDb = 20;

    /// <summary>Over playing it must stand this far above the last three seconds.</summary>
    private const double PlayingRiseDb = 10;

    /// <summary>Softer bangs hurt nobody, and low levels rise and fall by tens of dB for nothing.</summary>
    private const double QuietestDbfs = -50;

    /// <summary>Peak over RMS (after AES17) of a bang of a few milliseconds in a frame of 50 ms; a note has less.</summary>
    private const double BangCrestDb = 10;

    /// <summary>Over playing the crest must also exceed what this input usually shows.</summary>
    private const double ExtraCrestDb = 2.5;

    /// <summary>A bang has fallen this far after <see cref="GoneAfterS"/>; the hardest damped drum has not.</summary>
    private const double GoneDb = 18;

    private const double GoneAfterS = 0.1;

    /// <summary>A second note as loud within this time: it was the first of a row.</summary>
    private const double FollowedWithinS = 0.6;

    /// <summary>Onsets from rest that turned out as playing are remembered, as a level, this slowly.</summary>
    private const double HabitFallDbPerS = 0.3;

    private readonly RecentMaximum _second = new(1, frameS);
    private readonly RecentMaximum _three = new(3, frameS);
    private double _crest = 8;
    private double _habitDbfs = double.NegativeInfinity;
    private double _bangDbfs;
    private double _bangAtS = double.NegativeInfinity;
    private bool _open;
    private bool _gone;
    private int _heard;

    /// <summary>How far the last bang stood above what was before, dB.</summary>
    public double SizeDb { get; private set; }

    /// <summary>Looks at a frame.</summary>
    public PopWord Observe(in MeterReading reading)
    {
        double peak = float.IsNegativeInfinity(reading.PeakDbfs) ? -200 : reading.PeakDbfs;
        var crest = float.IsFinite(reading.RmsDbfs) ? peak - reading.RmsDbfs : double.NaN;
        _habitDbfs -= HabitFallDbPerS * frameS;
        var word = _open ? Follow(reading.TimeS, peak) : Look(reading.TimeS, peak, crest);
        if (!double.IsNaN(crest) && peak > QuietestDbfs && word == PopWord.None)
            _crest += 0.02 * (crest - _crest);
        _second.Add(peak);
        _three.Add(peak);
        _heard++;
        return word;
    }

    private PopWord Look(double timeS, double peak, double crest)
    {
        if (_heard * frameS < 1 || peak < QuietestDbfs)
            return PopWord.None;
        var brief = double.IsNaN(crest) || crest >= BangCrestDb;
        var fromRest = peak - _second.Value >= RestRiseDb && brief && peak > _habitDbfs + 3;
        var overPlaying = peak - _three.Value >= PlayingRiseDb && (double.IsNaN(crest) || crest >= Math.Max(BangCrestDb, _crest + ExtraCrestDb));
        if (!fromRest && !overPlaying)
            return PopWord.None;
        (_open, _gone, _bangAtS, _bangDbfs) = (true, false, timeS, peak);
        SizeDb = peak - _second.Value;
        return PopWord.Raised;
    }

    private PopWord Follow(double timeS, double peak)
    {
        var since = timeS - _bangAtS;
        _gone |= peak <= _bangDbfs - GoneDb;
        var stays = since >= GoneAfterS + (frameS / 2) && !_gone;
        var row = _gone && since <= FollowedWithinS && peak > _bangDbfs - 6;
        if (stays || row)
        {
            _open = false;
            _habitDbfs = Math.Max(_habitDbfs, _bangDbfs);
            return PopWord.Withdrawn;
        }

        _open = since < FollowedWithinS;
        return PopWord.None;
    }
}
