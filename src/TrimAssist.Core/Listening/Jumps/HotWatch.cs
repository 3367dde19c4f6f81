namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Hears that a player is louder than the check let expect. One bang is no player: it takes two moments a second apart.</summary>
internal sealed class HotWatch
{
    /// <summary>Moments nearer to each other are one.</summary>
    private const double ApartS = 1;

    /// <summary>Over when none came for this long; moments further apart are strangers.</summary>
    private const double OverAfterS = 10;

    private Finding _now;
    private double _firstS = double.NegativeInfinity;
    private double _seenS = double.NegativeInfinity;

    /// <summary>The highest level that is expected, in dBFS; NaN where nothing is.</summary>
    public float HighestDbfs { get; set; } = float.NaN;

    public void Observe(double timeS, float peak, int input, Voice voice, FindingRing found)
    {
        if (peak > HighestDbfs)
            See(timeS, peak, input, voice, found);
        else if (_now.Id != 0 && timeS - _seenS > OverAfterS)
            End(found);
    }

    private void See(double timeS, float peak, int input, Voice voice, FindingRing found)
    {
        if (timeS - _seenS > OverAfterS)
            _firstS = timeS;
        _seenS = timeS;
        if (_now.Id == 0 && timeS - _firstS >= ApartS)
            _now = voice.Raise(found, input, FindingKind.Hot, timeS, peak - HighestDbfs, peak);
    }

    private void End(FindingRing found)
    {
        found.Add(_now with { Stage = FindingStage.Ended });
        _now = default;
    }
}
