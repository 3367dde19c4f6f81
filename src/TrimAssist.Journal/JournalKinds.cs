namespace TrimAssist.Journal;

/// <summary>The kinds of facts in the journal. A kind is never renamed: old journals must stay readable.</summary>
public static class JournalKinds
{
    /// <summary>A proposal is new or has changed; the body is the proposal as over HTTP.</summary>
    public const string Proposal = "proposal";

    /// <summary>Somebody confirmed a proposal; durable before the answer.</summary>
    public const string Confirmed = "confirmed";

    /// <summary>A confirmed change is about to be sent; durable before the first byte leaves.</summary>
    public const string Sending = "sending";

    /// <summary>An alarm is new or has changed.</summary>
    public const string Alarm = "alarm";

    /// <summary>A check is new or has changed.</summary>
    public const string Check = "check";

    /// <summary>A safe patch is new or has changed.</summary>
    public const string Patch = "patch";

    /// <summary>An act came on.</summary>
    public const string Act = "act";

    /// <summary>The act that was on went off, and none is on.</summary>
    public const string ActEnded = "act-ended";

    /// <summary>An input list was taken into the running order while the service ran; a later one of the same act takes its place.</summary>
    public const string List = "list";

    /// <summary>What became of one input in one act's show; a later one of the same show and input takes its place.</summary>
    public const string Show = "show";

    /// <summary>The chain before an input was told or forgotten; a later word about the same act and input takes its place.</summary>
    public const string Chain = "chain";

    /// <summary>A player asked to be forgotten: what was learned before no longer counts.</summary>
    public const string PlayerForgotten = "player-forgotten";

    /// <summary>The link to a desk changed.</summary>
    public const string Link = "link";
}
