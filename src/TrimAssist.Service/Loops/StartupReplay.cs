using System.Text.Json;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Journal;
using TrimAssist.Service.Contract;

namespace TrimAssist.Service.Loops;

/// <summary>
/// Rebuilds from the journal what became of every proposal of the runs before. What was open has expired; what was confirmed
/// and not sent has failed; what was sent and not read back is unknown until the desk is read. Nothing is ever sent again.
/// </summary>
internal static class StartupReplay
{
    /// <summary>The proposals of a desk as earlier runs left them, oldest first, at most half as many as a book remembers; changed where the restart closed it.</summary>
    public static IReadOnlyList<(Proposal Proposal, bool Changed)> Read(IJournalReader journal, string desk, int inputs, Moment now)
    {
        var last = new Dictionary<Guid, ProposalReply>();
        var confirmed = new HashSet<Guid>();
        var sent = new HashSet<Guid>();
        foreach (var (_, fact) in journal.ReadAfter(0, JournalKinds.Proposal, JournalKinds.Confirmed, JournalKinds.Sending))
        {
            if (!string.Equals(fact.Desk, desk, StringComparison.Ordinal))
                continue;
            switch (fact.Kind)
            {
                case JournalKinds.Proposal when JsonSerializer.Deserialize<ProposalReply>(fact.Body, ApiJson.Options) is { } proposal:
                    // The profile may have fewer inputs than when this was written.
                    if (proposal.Inputs.Any(input => input < 1 || input > inputs))
                        break;
                    last.Remove(proposal.Id);
                    last.Add(proposal.Id, proposal);
                    break;
                case JournalKinds.Confirmed:
                    confirmed.Add(JsonSerializer.Deserialize(fact.Body, GateJournalJson.Default.ConfirmedBody)!.Proposal);
                    break;
                case JournalKinds.Sending:
                    sent.Add(JsonSerializer.Deserialize(fact.Body, GateJournalJson.Default.SendingBody)!.Proposal);
                    break;
                default:
                    throw new InvalidDataException($"The journal holds a fact of kind \"{fact.Kind}\" where none is expected.");
            }
        }

        return [.. last.Values.TakeLast(ProposalBook.Bound / 2).Select(one =>
        {
            var left = ToProposal(one, now);
            var closed = Close(left, confirmed.Contains(one.Id), sent.Contains(one.Id));
            return (closed, closed.State != left.State);
        })];
    }

    private static Proposal Close(Proposal proposal, bool confirmed, bool sent) => proposal.State switch
    {
        ProposalState.Open or ProposalState.Confirmed when sent =>
            proposal with { State = ProposalState.Unknown, Outcome = KeeperSayings.UnknownStopped },
        ProposalState.Open or ProposalState.Confirmed when confirmed =>
            proposal with { State = ProposalState.Failed, Outcome = KeeperSayings.FailedStopped },
        ProposalState.Open => proposal with { State = ProposalState.Expired, Outcome = KeeperSayings.ClosedRestart },
        ProposalState.Confirmed => proposal with { State = ProposalState.Failed, Outcome = KeeperSayings.FailedStoppedBefore },
        _ => proposal,
    };

    private static Proposal ToProposal(ProposalReply reply, Moment now)
    {
        Moment At(DateTimeOffset utc) => new(now.Elapsed - (now.Utc - utc), utc);
        return new Proposal
        {
            Id = reply.Id,
            Desk = reply.Desk,
            Inputs = reply.Inputs,
            Socket = reply.Socket,
            Kind = reply.Kind,
            From = reply.From,
            To = reply.To,
            Reason = Saying.Plain(reply.Reason),
            Evidence = reply.Evidence,
            Affects = [.. reply.Affects.Select(Saying.Plain)],
            Needs = reply.Needs,
            State = reply.State,
            Digest = reply.Digest,
            CreatedAt = At(reply.CreatedAt),
            ExpiresAt = At(reply.ExpiresAt),
            SequenceId = reply.SequenceId,
            Step = reply.Step,
            Steps = reply.Steps,
            Outcome = reply.Outcome is { } outcome ? Saying.Plain(outcome) : null,
        };
    }
}
