namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Gives findings of one stage their numbers and puts them into the ring.</summary>
internal sealed class Voice
{
    private int _lastId;

    public Finding Raise(FindingRing ring, int input, FindingKind kind, double timeS, float sizeDb, float peakDbfs)
    {
        var finding = new Finding(++_lastId, input, kind, FindingStage.Raised, timeS, sizeDb, peakDbfs);
        ring.Add(finding);
        return finding;
    }
}
