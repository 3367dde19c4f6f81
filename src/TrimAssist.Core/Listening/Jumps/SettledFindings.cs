namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What remains when every later word is in: for reading a log offline, where half a second of patience costs nothing.</summary>
public sealed class SettledFindings
{
    private readonly Dictionary<int, Finding> _byId = [];

    /// <summary>Takes every word that waits in <paramref name="ring"/>.</summary>
    public void TakeAll(FindingRing ring)
    {
        while (ring.TryTake(out var word))
            Take(word);
    }

    /// <summary>Takes one word; a later one of the same id replaces the kind, size and peak, and a withdrawal removes the finding.</summary>
    public void Take(in Finding word)
    {
        if (word.Stage == FindingStage.Withdrawn)
            _byId.Remove(word.Id);
        else if (word.Stage != FindingStage.Ended)
            _byId[word.Id] = word;
    }

    /// <summary>The findings of one input that stood, in order of time.</summary>
    public IReadOnlyList<Finding> Of(int input) =>
        [.. _byId.Values.Where(finding => finding.Input == input).OrderBy(finding => finding.TimeS).ThenBy(finding => finding.Id)];
}
