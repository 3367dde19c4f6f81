using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Gate;

/// <summary>
/// Turns a confirmation of an open proposal into at most one permission to write. The pattern is select before operate
/// (IEEE 1815, IEC 61850-7-2): the confirmation must name exactly what was shown, once, in time, on an unchanged desk.
/// </summary>
/// <remarks>
/// Three calls around two waits that are the caller's: <see cref="Ask"/>, the desk's value is read again,
/// <see cref="Reserve"/>, the journal writes it down, <see cref="Grant"/>. Owned by the desk's loop.
/// </remarks>
public sealed class ConfirmationGate(ProposalBook book)
{
    /// <summary>A confirmation of a picture older than this is refused: the confirmer may have seen another desk.</summary>
    public static readonly TimeSpan OldestPicture = TimeSpan.FromSeconds(2);

    private readonly Dictionary<Guid, IReadOnlyList<string>> _reserved = [];

    /// <summary>Looks at everything that needs no fresh reading. Changes nothing but the state of an expired proposal.</summary>
    public GateAnswer Ask(Confirmation confirmation, LinkState link, Moment now)
    {
        if (book.Find(confirmation.Id) is not { } proposal)
            return new(GateCode.NotFound, null);
        var sameDigest = string.Equals(confirmation.Digest, proposal.Digest, StringComparison.Ordinal);
        if (WasTaken(proposal.State) && sameDigest)
            return new(GateCode.AlreadyConfirmed, proposal);
        if (proposal.State is not (ProposalState.Open or ProposalState.Expired))
            return new(GateCode.NotOpen, proposal);
        if (proposal.State == ProposalState.Expired || now.Elapsed >= proposal.ExpiresAt.Elapsed)
            return new(GateCode.Expired, Expire(proposal));
        if (!sameDigest)
            return new(GateCode.DigestMismatch, proposal);
        if (!confirmation.Acknowledge.ToHashSet(StringComparer.Ordinal).SetEquals(proposal.Needs))
            return new(GateCode.AcknowledgeNeeded, proposal);
        if (confirmation.PictureAge > OldestPicture)
            return new(GateCode.PictureStale, proposal);
        return new(link == LinkState.Live ? GateCode.Accepted : GateCode.DeskNotLive, proposal);
    }

    /// <summary>Looks again, now with the desk's value just read, and keeps the proposal for one confirmer.</summary>
    /// <returns><see cref="GateCode.Accepted"/> once; a moved value supersedes the proposal.</returns>
    public GateAnswer Reserve(Confirmation confirmation, DeskView desk, Moment now)
    {
        var answer = Ask(confirmation, desk.Link, now);
        if (answer is { Code: GateCode.NotOpen, Proposal: { State: ProposalState.Superseded } passed } && !desk.StillHas(passed))
        {
            // The reading itself showed that the desk moved, and the move has closed the proposal: the confirmer is told why.
            return new(GateCode.ValueMoved, passed);
        }

        if (answer is not { Code: GateCode.Accepted, Proposal: { } proposal })
            return answer;
        if (!desk.StillHas(proposal))
            return new(GateCode.ValueMoved, book.Move(proposal.Id, ProposalState.Superseded, OutcomeSayings.ClosedMovedBefore));
        return _reserved.TryAdd(proposal.Id, proposal.Needs) ? answer : new(GateCode.NotOpen, proposal);
    }

    /// <summary>Makes the permission, after the journal has written the confirmation down. Uses up the reservation.</summary>
    /// <returns>The permission; <see langword="null"/> where the desk moved or the proposal was closed in the meantime.</returns>
    public ConfirmedChange? Grant(Guid id, DeskView desk)
    {
        if (!_reserved.Remove(id, out var acknowledged) || book.Find(id) is not { IsOpen: true } proposal)
            return null;
        // A danger that came up meanwhile was acknowledged by nobody: the proposal stays open and is confirmed anew.
        if (!proposal.Needs.ToHashSet(StringComparer.Ordinal).SetEquals(acknowledged))
            return null;
        if (desk.Link != LinkState.Live || !desk.StillHas(proposal))
        {
            book.Move(id, ProposalState.Failed, OutcomeSayings.FailedMovedWhile);
            return null;
        }

        book.Move(id, ProposalState.Confirmed, null);
        return new ConfirmedChange(proposal.Id, proposal.Desk, proposal.Inputs, proposal.Kind, proposal.From, proposal.To);
    }

    /// <summary>Gives a reservation back: the journal could not write, the proposal stays open.</summary>
    public void Release(Guid id) => _reserved.Remove(id);

    /// <summary>Takes in how the write ended.</summary>
    public Proposal Settle(Guid id, WriteOutcome outcome) => book.Move(id, StateAfter(outcome.Result), outcome.Detail);

    /// <summary>
    /// Resolves what was sent and never read back, now that the desk has told something new about an input. What it told
    /// before the send proves nothing, so only a control whose value has just changed speaks.
    /// </summary>
    /// <returns>The proposals resolved.</returns>
    public IReadOnlyList<Proposal> Resolve(InputSettings before, InputSettings after, DeskView desk) => [.. book.All
        .Where(one => one.State == ProposalState.Unknown
            && one.Inputs.Contains(after.Input)
            && ControlValue.Of(before, one.Kind) != ControlValue.Of(after, one.Kind)
            && one.Inputs.All(input => desk.Value(input, one.Kind) is not null))
        .ToList()
        .Select(one => ReadLater(one, desk))];

    /// <summary>Resolves one proposal that was sent and never read back, after the desk was asked anew and has answered for all its inputs.</summary>
    /// <returns>The proposal resolved; <see langword="null"/> where there was nothing to resolve.</returns>
    public Proposal? ResolveRead(Guid id, DeskView desk) =>
        book.Find(id) is { State: ProposalState.Unknown } sent && sent.Inputs.All(input => desk.Value(input, sent.Kind) is not null)
            ? ReadLater(sent, desk)
            : null;

    private Proposal ReadLater(Proposal sent, DeskView desk) => sent.Inputs.All(input => desk.Value(input, sent.Kind) is { } now && now.Matches(sent.To, desk.ToleranceDb))
        ? book.Move(sent.Id, ProposalState.Applied, OutcomeSayings.DoneReadLater)
        : book.Move(sent.Id, ProposalState.Failed, OutcomeSayings.FailedReadLater(desk.Value(sent.Input, sent.Kind)!.Value.Said));

    private static bool WasTaken(ProposalState state) =>
        state is ProposalState.Confirmed or ProposalState.Applied or ProposalState.Failed or ProposalState.Unknown;

    private static ProposalState StateAfter(WriteResult result) => result switch
    {
        WriteResult.Applied => ProposalState.Applied,
        WriteResult.Failed or WriteResult.NotSent => ProposalState.Failed,
        WriteResult.Unknown => ProposalState.Unknown,
        _ => throw new ArgumentOutOfRangeException(nameof(result), result, "not a result of a write"),
    };

    private Proposal Expire(Proposal proposal) => proposal.IsOpen
        ? book.Move(proposal.Id, ProposalState.Expired, OutcomeSayings.ClosedExpired)
        : proposal;
}
