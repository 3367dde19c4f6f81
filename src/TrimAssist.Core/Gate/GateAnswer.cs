using TrimAssist.Core.Proposals;

namespace TrimAssist.Core.Gate;

/// <summary>What the gate says to a confirmation. In the order in which they are looked at when several apply.</summary>
public enum GateCode
{
    /// <summary>Nothing stands against it.</summary>
    Accepted,

    /// <summary>The same confirmation came before: the proposal as it stands is the answer, nothing is sent.</summary>
    AlreadyConfirmed,

    /// <summary>There is no such proposal.</summary>
    NotFound,

    /// <summary>This confirmer may not confirm this proposal.</summary>
    NotAllowed,

    /// <summary>Declined, superseded, or confirmed under another digest.</summary>
    NotOpen,

    /// <summary>Its time is up.</summary>
    Expired,

    /// <summary>The confirmation names something other than what was shown. The proposal is not spent.</summary>
    DigestMismatch,

    /// <summary>The dangers named back are not exactly the proposal's.</summary>
    AcknowledgeNeeded,

    /// <summary>The picture that was confirmed is too old to be what the confirmer meant.</summary>
    PictureStale,

    /// <summary>The link to the desk is not live.</summary>
    DeskNotLive,

    /// <summary>The desk does not answer as it used to, or was away and has not said since: what it said before decides nothing.</summary>
    DeskSilent,

    /// <summary>The desk no longer has the value that the proposal started from.</summary>
    ValueMoved,

    /// <summary>The journal cannot write the confirmation down, so it is not acted upon.</summary>
    JournalUnavailable,
}

/// <summary>The gate's answer, and the proposal as it stands.</summary>
/// <param name="Code">The answer.</param>
/// <param name="Proposal">The proposal; <see langword="null"/> where there is none.</param>
public sealed record GateAnswer(GateCode Code, Proposal? Proposal);

/// <summary>A confirmation as it came in.</summary>
/// <param name="Id">The proposal meant.</param>
/// <param name="Digest">The digest of what was shown.</param>
/// <param name="Acknowledge">The dangers named back.</param>
/// <param name="By">Who confirms, for the record.</param>
/// <param name="PictureAge">How old the picture was that the confirmer saw; <see langword="null"/> where it does not say.</param>
/// <param name="Limits">What the confirmer is limited to; <see langword="null"/> for the engineer.</param>
public sealed record Confirmation(Guid Id, string Digest, IReadOnlyList<string> Acknowledge, string By, TimeSpan? PictureAge = null, ConfirmerLimits? Limits = null);
