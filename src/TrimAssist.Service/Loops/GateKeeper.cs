using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;

namespace TrimAssist.Service.Loops;

/// <summary>
/// The only caller of the gate: asks it, has the desk's value read again, has the confirmation written down, and only then
/// hands the permission to the writer. Every method runs on the desk's loop; between its waits the loop goes on hearing.
/// </summary>
/// <param name="assistant">The desk's assistant.</param>
/// <param name="readAgain">Asks the desk for the proposal's value once more, waits a bounded time, and says whether the value known may be built upon.</param>
/// <param name="writer">The one writer.</param>
/// <param name="journal">Writes down what must not be forgotten.</param>
/// <param name="now">The present moment.</param>
/// <param name="stopping">Ends waits when the service stops.</param>
internal sealed class GateKeeper(
    DeskAssistant assistant, Func<Proposal, Task<bool>> readAgain, IDeskWriter writer, GateJournal journal, Func<Moment> now, CancellationToken stopping)
{
    private readonly Dictionary<(Guid Id, string Digest), Task<GateAnswer>> _underWay = [];
    private bool _readsUnknown;

    /// <summary>Answers a confirmation. Identical ones at the same time share one answer and one write.</summary>
    public async Task<GateAnswer> ConfirmAsync(Confirmation confirmation)
    {
        if (!MayConfirm(confirmation))
            return new(GateCode.NotAllowed, assistant.Book.Find(confirmation.Id));
        var key = (confirmation.Id, confirmation.Digest);
        if (_underWay.TryGetValue(key, out var first))
            return await first;
        var asked = assistant.Gate.Ask(confirmation, assistant.Link, now());
        if (asked is not { Code: GateCode.Accepted, Proposal: { } proposal })
            return asked;
        var answer = TakeAsync(confirmation, proposal);
        _underWay.Add(key, answer);
        try
        {
            return await answer;
        }
        finally
        {
            _underWay.Remove(key);
        }
    }

    private async Task<GateAnswer> TakeAsync(Confirmation confirmation, Proposal shown)
    {
        var current = await readAgain(shown);
        if (!MayConfirm(confirmation))
            return new(GateCode.NotAllowed, shown);
        var reserved = assistant.Gate.Reserve(confirmation, assistant.View, now());
        if (reserved is not { Code: GateCode.Accepted, Proposal: { } proposal })
            return reserved;
        if (!current)
        {
            assistant.Gate.Release(proposal.Id);
            return new(GateCode.DeskSilent, proposal);
        }

        if (!await journal.ConfirmedAsync(proposal, confirmation.By))
        {
            assistant.Gate.Release(proposal.Id);
            return new(GateCode.JournalUnavailable, proposal);
        }

        if (assistant.Gate.Grant(proposal.Id, assistant.View) is not { } change)
            return Withheld(assistant.Book.Find(proposal.Id)!);
        var confirmed = assistant.Book.Find(proposal.Id);
        _ = SendAsync(change);
        return new(GateCode.Accepted, confirmed);
    }

    /// <summary>Asks the desk anew about what was sent and never read back, so that it does not stay unknown when the desk can say.</summary>
    /// <param name="heardAgo">How long ago the desk told a control's value.</param>
    public async Task ReadUnknownAsync(Func<int, ProposalKind, TimeSpan?> heardAgo)
    {
        if (_readsUnknown || assistant.Link != LinkState.Live)
            return;
        _readsUnknown = true;
        try
        {
            foreach (var sent in assistant.Book.All.Where(one => one.State == ProposalState.Unknown).ToList())
            {
                var asked = now().Elapsed;
                await readAgain(sent);
                if (sent.Inputs.All(input => heardAgo(input, sent.Kind) <= now().Elapsed - asked))
                    assistant.ResolveRead(sent.Id, now());
            }
        }
        finally
        {
            _readsUnknown = false;
        }
    }

    private bool MayConfirm(Confirmation confirmation) =>
        confirmation.Limits is not { } limits || assistant.Book.Find(confirmation.Id) is not { } proposal || limits.Allow(proposal, assistant.Desk, assistant.View.Settings);

    // The confirmation is written down, and between that and the permission something came in between.
    private GateAnswer Withheld(Proposal proposal) => new(
        proposal.State switch
        {
            ProposalState.Expired => GateCode.Expired,
            ProposalState.Declined => GateCode.NotOpen,
            ProposalState.Open => GateCode.AcknowledgeNeeded,
            _ when assistant.Link != LinkState.Live => GateCode.DeskNotLive,
            _ => GateCode.ValueMoved,
        },
        proposal);

    private async Task SendAsync(ConfirmedChange change)
    {
        WriteOutcome outcome;
        if (!await journal.SendingAsync(change))
        {
            outcome = new(WriteResult.NotSent, null, KeeperSayings.FailedJournal);
        }
        else if (assistant.Watching && Dangers.RiseDb(change.Kind, change.From, change.To, assistant.Desk) > 0)
        {
            outcome = new(WriteResult.NotSent, null, KeeperSayings.FailedWatch);
        }
        else
        {
            try
            {
                outcome = await writer.ApplyAsync(change, stopping);
            }
            catch (OperationCanceledException)
            {
                outcome = new(WriteResult.Unknown, null, KeeperSayings.UnknownWaiting);
            }
            catch (Exception fault) when (fault is not OutOfMemoryException)
            {
                // Whether it left before the fault is not known; the desk will say when it is read.
                outcome = new(WriteResult.Unknown, null, KeeperSayings.UnknownFault(fault.Message));
            }
        }

        assistant.Settle(change.Proposal, outcome, now());
    }
}
