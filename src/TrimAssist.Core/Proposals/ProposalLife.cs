namespace TrimAssist.Core.Proposals;

/// <summary>How long proposals may stand open. Limits can be tightened, never lengthened, from outside.</summary>
public static class ProposalLife
{
    /// <summary>A trim, or a step of a pad change.</summary>
    public static readonly TimeSpan Trim = TimeSpan.FromMinutes(15);

    /// <summary>A mute that a pop called for: after this the moment has passed.</summary>
    public static readonly TimeSpan PopMute = TimeSpan.FromSeconds(20);

    /// <summary>A step of a safe patch: somebody on stage waits for it.</summary>
    public static readonly TimeSpan Patch = TimeSpan.FromMinutes(5);
}
