namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Sees the converter full.</summary>
internal sealed class OverloadWatch
{
    /// <summary>A reading at or above full scale less this is an overload: desks round what they send.</summary>
    private const float SlackDb = 0.1f;

    /// <summary>An overload is over when none came for this long.</summary>
    private const double OverAfterS = 0.5;

    private Finding _now;
    private double _seenS;

    public float FullScaleDbfs { get; set; }

    public void Observe(double timeS, float peak, int input, Voice voice, FindingRing found)
    {
        if (peak >= FullScaleDbfs - SlackDb)
            See(timeS, peak - FullScaleDbfs, peak, input, voice, found);
        else if (_now.Id != 0 && timeS - _seenS > OverAfterS)
            End(found);
    }

    /// <summary>Takes in the desk's own flag, whatever the meter shows: it may be tapped where a clipped preamp no longer reaches full scale.</summary>
    public void Flag(double timeS, int input, Voice voice, FindingRing found) => See(timeS, float.NaN, float.NaN, input, voice, found);

    private void See(double timeS, float size, float peak, int input, Voice voice, FindingRing found)
    {
        _seenS = timeS;
        if (_now.Id == 0)
            _now = voice.Raise(found, input, FindingKind.Overload, timeS, size, peak);
    }

    private void End(FindingRing found)
    {
        found.Add(_now with { Stage = FindingStage.Ended });
        _now = default;
    }
}
