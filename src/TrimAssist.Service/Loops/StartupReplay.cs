using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Journal;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Loops;

/// <summary>
/// Rebuilds from the journal what became of every proposal of the runs before. What was open has expired; what was confirmed
/// and not sent has failed; what was sent and not read back is unknown until the desk is read. Nothing is ever sent again.
/// </summary>
internal static class StartupReplay
{
    /// <summary>How many proposals are recalled; the journal remembers the rest.</summary>
    public const int Bound = ProposalBook.Bound / 2;

    /// <summary>
    /// The last proposals of a desk as earlier runs left them, oldest first; changed where the restart closed it. The journal is read from its
    /// end, so that a start takes no longer after a hundred shows than after one. A confirmation or a send that cannot be read counts for every
    /// proposal that its text names, and where it names none, for whatever was left open before it.
    /// </summary>
    public static IReadOnlyList<(Proposal Proposal, bool Changed)> Read(LineReader journal, string desk, int inputs, Moment now)
    {
        var last = new List<Left>(Bound);
        var seen = new HashSet<Guid>();
        var confirmed = new HashSet<Guid>();
        var sent = new HashSet<Guid>();
        var doubtful = false;
        void Remember(ProposalReply proposal)
        {
            // The profile may have fewer inputs than when this was written.
            if (proposal.Inputs.All(input => input >= 1 && input <= inputs) && seen.Add(proposal.Id))
                last.Add(new(proposal, doubtful));
        }

        void Count(HashSet<Guid> those, JournalEntry line, Guid? proposal)
        {
            var named = proposal is { } one ? [one] : GateLines.IdsIn(line.Fact);
            those.UnionWith(named);
            doubtful |= named.Count == 0;
        }

        foreach (var line in journal.ReadBack(JournalKinds.Proposal, JournalKinds.Confirmed, JournalKinds.Sending))
        {
            if (!string.Equals(line.Fact.Desk, desk, StringComparison.Ordinal))
                continue;
            if (last.Count == Bound)
                break;
            switch (line.Fact.Kind)
            {
                case JournalKinds.Confirmed:
                    var confirmation = journal.Read(line, GateLines.Confirmed);
                    Count(confirmed, line, confirmation?.Proposal);
                    if (confirmation?.Shown is { } shown)
                        Remember(shown);
                    break;
                case JournalKinds.Sending:
                    Count(sent, line, journal.Read(line, GateLines.Sending)?.Proposal);
                    break;
                default:
                    if (journal.Read(line, ReplyLines.Proposal) is { } proposal)
                        Remember(proposal);
                    break;
            }
        }

        last.Reverse();
        return [.. last.Select(one =>
        {
            var left = ToProposal(one.Proposal, now);
            var closed = Close(left, confirmed.Contains(left.Id), sent.Contains(left.Id), one.Doubtful);
            return (closed, closed.State != left.State);
        })];
    }

    private static Proposal Close(Proposal proposal, bool confirmed, bool sent, bool doubtful) => proposal.State switch
    {
        ProposalState.Open or ProposalState.Confirmed when sent =>
            proposal with { State = ProposalState.Unknown, Outcome = KeeperSayings.UnknownStopped },
        ProposalState.Open or ProposalState.Confirmed when doubtful =>
            proposal with { State = ProposalState.Unknown, Outcome = KeeperSayings.UnknownUnread },
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

    /// <summary>A proposal's last word.</summary>
    /// <param name="Proposal">The proposal.</param>
    /// <param name="Doubtful">Whether after it comes a confirmation or a send of nobody knows what.</param>
    private sealed record Left(ProposalReply Proposal, bool Doubtful);
}
