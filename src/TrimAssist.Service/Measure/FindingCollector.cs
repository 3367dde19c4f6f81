using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Listening.Levels;

namespace TrimAssist.Service.Measure;

/// <summary>Gathers what the jump listener says into one finding each: the last word counts, what was taken back is dropped.</summary>
internal sealed class FindingCollector
{
    private readonly SettledFindings _findings = new();

    /// <summary>Takes everything that waits in the ring.</summary>
    public void Drain(FindingRing found) => _findings.TakeAll(found);

    /// <summary>Cuts what is no playing out of what a listener heard.</summary>
    public void CutOut(int channel, LevelListener listener)
    {
        foreach (var finding in _findings.Of(channel).Where(finding => finding.IsBang))
            listener.Exclude(finding.BangFromS, finding.BangUntilS);
    }

    /// <summary>The findings of a channel as the contract writes them, in order of time.</summary>
    public IReadOnlyList<EventDocument> Events(int channel) =>
        [.. _findings.Of(channel).Select(finding => new EventDocument(
            Math.Round(finding.TimeS, 3), KindOf(finding.Kind), float.IsFinite(finding.SizeDb) ? Math.Round(finding.SizeDb, 1) : null))];

    private static string KindOf(FindingKind kind) => kind switch
    {
        FindingKind.Pop => "pop",
        FindingKind.Crackle => "crackle",
        FindingKind.StepUp => "step-up",
        FindingKind.StepDown => "step-down",
        FindingKind.Overload => "overload",
        FindingKind.FlatTop => "flat-top",
        FindingKind.Hot => "hot",
        FindingKind.Dropout => "dropout",
        FindingKind.Ring => "ring",
        FindingKind.NoiseRise => "noise-rise",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "no such kind"),
    };
}
