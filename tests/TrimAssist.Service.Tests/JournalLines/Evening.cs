using System.Text.Json;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Tests.ChainFiles;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>What one act's evening left in the journal, whole.</summary>
/// <param name="Act">The act.</param>
/// <param name="Player">Its player, heard on input 1.</param>
/// <param name="At">When.</param>
internal sealed record Evening(string Act, string Player, DateTimeOffset At)
{
    /// <summary>Confirmed, sent, and read back.</summary>
    public Guid Applied { get; } = Guid.NewGuid();

    /// <summary>Left open when the service fell.</summary>
    public Guid Open { get; } = Guid.NewGuid();

    public const string Digest = "c0ffee";

    /// <summary>The lines, in order.</summary>
    public IEnumerable<NewEntry> Lines()
    {
        var line = new ActInput(1, "Lead", "voice", SourceRole.Performer, Player, null, null, null, null);
        var act = new Act(Act, null, [line]);
        yield return Line(JournalKinds.List, JsonSerializer.Serialize(new ListBody(act), ActsJson.Default.ListBody));
        yield return Line(JournalKinds.Act, JsonSerializer.Serialize(new ActBody(act, At), ActsJson.Default.ActBody));
        yield return Line(JournalKinds.Chain, ChainMemory.Body(Act, 1, ChainTexts.Good));
        yield return Line(JournalKinds.Show, JsonSerializer.Serialize(
            new ShowInput("desk", Act, At, line, 24, false, -12, -18, -80, -25, -12, -11, false, 5, "common practice", 6), ActsJson.Default.ShowInput));
        yield return Told(Open, ProposalState.Open);
        yield return Told(Applied, ProposalState.Open);
        yield return Line(JournalKinds.Confirmed, $$"""{"proposal":"{{Applied}}","digest":"{{Digest}}","by":"engineer","at":"2031-05-17T20:16:00+00:00"}""");
        yield return Line(JournalKinds.Sending, $$"""{"proposal":"{{Applied}}"}""");
        yield return Told(Applied, ProposalState.Applied);
    }

    private NewEntry Told(Guid id, ProposalState state) => Line(JournalKinds.Proposal, JsonSerializer.Serialize(
        new ProposalReply(
            id, "desk", 1, [1], null, ProposalKind.Trim, SettingValue.Gain(30), SettingValue.Gain(24), "because", new ProposalEvidence(), [], [], state, Digest, At, At.AddMinutes(10), id, 1, 1, null),
        ApiJson.Options));

    private NewEntry Line(string kind, string body) => Damage.Entry(kind, body, At);
}
