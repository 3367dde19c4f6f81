using System.Text.Json;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.Contract;

namespace TrimAssist.Service.Loops;

/// <summary>Writes into the journal what the desks' loops do: some of it must be durable before the next step, the rest in order.</summary>
/// <param name="journal">The journal.</param>
/// <param name="time">The clock.</param>
/// <param name="vitals">Where it shows that the disk answers.</param>
/// <param name="log">Told, at a limited rate, when a line could not be written.</param>
internal sealed partial class GateJournal(IJournal journal, TimeProvider time, Vitals vitals, ILogger<GateJournal> log)
{
    private readonly Vitals.Pulse _disk = vitals.Follow("The journal's disk");
    private static readonly TimeSpan ComplainAgainAfter = TimeSpan.FromSeconds(10);

    private long _lost;
    private long _complainedAt;

    /// <summary>Why the journal could not be written when that was last tried; <see langword="null"/> while it can.</summary>
    public string? Trouble => journal.Trouble;

    /// <summary>Lines that could not be written. Confirmations are never among them: they are refused instead.</summary>
    public long Lost => Interlocked.Read(ref _lost);

    /// <summary>Writes that a proposal was confirmed, and what it said: the line of the proposal itself may be one that the disk refused.</summary>
    /// <returns>Whether it is durable; when not, nobody may act upon the confirmation.</returns>
    public Task<bool> ConfirmedAsync(Proposal proposal, string by) => DurableAsync(
        proposal.Desk, JournalKinds.Confirmed, JsonSerializer.Serialize(new ConfirmedBody(proposal.Id, proposal.Digest, by, time.GetUtcNow(), proposal.ToReply()), GateJournalJson.Lines.ConfirmedBody));

    /// <summary>Writes that a confirmed change is about to be sent.</summary>
    /// <returns>Whether it is durable; when not, nothing may be sent.</returns>
    public Task<bool> SendingAsync(ConfirmedChange change) => DurableAsync(
        change.Desk, JournalKinds.Sending, JsonSerializer.Serialize(new SendingBody(change.Proposal), GateJournalJson.Lines.SendingBody));

    /// <summary>Writes what was told of a chain before an input.</summary>
    /// <returns>Whether it is durable; when not, it would be forgotten at the next start.</returns>
    public Task<bool> ChainToldAsync(string desk, string body) => DurableAsync(desk, JournalKinds.Chain, body);

    /// <summary>Writes an input list down.</summary>
    /// <returns>Whether it is durable; when not, it would be forgotten at the next start.</returns>
    public Task<bool> ListTakenAsync(string desk, string body) => DurableAsync(desk, JournalKinds.List, body);

    /// <summary>Writes something down in order, without waiting for it.</summary>
    public void Note(string desk, string kind, string body) => _ = DurableAsync(desk, kind, body, isAwaited: false);

    private async Task<bool> DurableAsync(string desk, string kind, string body, bool isAwaited = true)
    {
        var entry = new NewEntry(Guid.CreateVersion7(time.GetUtcNow()), time.GetUtcNow(), desk, kind, 1, body);
        AppendResult result;
        _disk.Begin();
        try
        {
            result = await (isAwaited ? journal.AppendAsync(entry, CancellationToken.None) : journal.NoteAsync(entry));
        }
        finally
        {
            _disk.Done();
        }

        if (!result.Durable)
            Complain(kind, result.ToString());
        return result.Durable;
    }

    private void Complain(string kind, string why)
    {
        Interlocked.Increment(ref _lost);
        var now = time.GetTimestamp();
        var last = Interlocked.Read(ref _complainedAt);
        if (last != 0 && time.GetElapsedTime(last, now) < ComplainAgainAfter)
            return;
        Interlocked.Exchange(ref _complainedAt, now);
        LogUnwritable(kind, why, Lost);
    }

    [LoggerMessage(EventId = 2001, Level = LogLevel.Error, Message = "The journal could not take a line of kind {Kind}: {Why}. {Lost} lines lost so far; confirmations are refused meanwhile")]
    private partial void LogUnwritable(string kind, string why, long lost);
}

/// <summary>The body of a confirmation in the journal.</summary>
/// <param name="Proposal">The proposal's id.</param>
/// <param name="Digest">What the confirmer named.</param>
/// <param name="By">Who confirmed.</param>
/// <param name="At">When.</param>
/// <param name="Shown">The proposal as it was confirmed; <see langword="null"/> in lines written before this was kept.</param>
internal sealed record ConfirmedBody(Guid Proposal, string Digest, string By, DateTimeOffset At, ProposalReply? Shown = null);

/// <summary>The same without the proposal.</summary>
internal sealed record ConfirmedAloneBody(Guid Proposal, string Digest, string By, DateTimeOffset At);

/// <summary>The body of a send in the journal.</summary>
internal sealed record SendingBody(Guid Proposal);

[System.Text.Json.Serialization.JsonSerializable(typeof(ConfirmedBody))]
[System.Text.Json.Serialization.JsonSerializable(typeof(ConfirmedAloneBody))]
[System.Text.Json.Serialization.JsonSerializable(typeof(SendingBody))]
internal sealed partial class GateJournalJson : System.Text.Json.Serialization.JsonSerializerContext
{
    /// <summary>The bodies as they stand in the journal: by the rules of what leaves over HTTP, as all others there.</summary>
    public static GateJournalJson Lines { get; } = new(new JsonSerializerOptions(ApiJson.Options));
}
