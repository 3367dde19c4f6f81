using System.Text.Json;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Events;

namespace TrimAssist.Service.Loops;

/// <summary>Tells the event stream and the journal what a desk's assistant did. The order of both is the order of happening.</summary>
internal sealed class DeskEvents(EventHub hub, GateJournal journal, ShowMemory shows) : IAssistantEvents
{
    public void ProposalChanged(Proposal proposal)
    {
        var json = JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options);
        Tell(proposal.Desk, "proposal", JournalKinds.Proposal, json);
    }

    public void AlarmChanged(Alarm alarm)
    {
        var json = JsonSerializer.Serialize(alarm.ToReply(), ApiJson.Options);
        Tell(alarm.Desk, "alarm", JournalKinds.Alarm, json);
    }

    public void CheckChanged(SoundCheck check)
    {
        var json = JsonSerializer.Serialize(check.ToReply([], new ProposalBook(static _ => { })), ApiJson.Options);
        Tell(check.Desk, "check", JournalKinds.Check, json);
    }

    public void ActBegun(string desk, Act act, DateTimeOffset at) =>
        journal.Note(desk, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(act, at), ActsJson.Default.ActBody));

    public void ActEnded(string desk, Act act, DateTimeOffset at) =>
        journal.Note(desk, JournalKinds.ActEnded, JsonSerializer.Serialize(new ActEndedBody(act.Name, at), ActsJson.Default.ActEndedBody));

    public void ShowHeard(IReadOnlyList<ShowInput> inputs, bool isOver)
    {
        foreach (var input in inputs)
        {
            journal.Note(input.Desk, JournalKinds.Show, JsonSerializer.Serialize(input, ActsJson.Default.ShowInput));
            if (isOver)
                shows.Take(input);
        }
    }

    public void PatchChanged(SafePatch patch)
    {
        // What is kept and resumed never carries a lease: only a renewal, or an answer to a question, does.
        var json = JsonSerializer.Serialize(patch.ToReply(lease: null), ApiJson.Options);
        Tell(patch.Desk, "patch", JournalKinds.Patch, json);
    }

    // Who waits for a warning comes before who writes it down: neither waits for the other, and of two threads that are called the first is sooner there.
    private void Tell(string desk, string kind, string noted, string json)
    {
        hub.Publish(kind, json);
        journal.Note(desk, noted, json);
    }
}
