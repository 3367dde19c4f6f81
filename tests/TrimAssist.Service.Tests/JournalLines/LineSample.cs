using System.Text.Json.Nodes;
using TrimAssist.Journal;
using TrimAssist.Service.Tests.ChainFiles;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>A line of one kind as the first version wrote it: a later program reads it as ever. Names and figures are invented.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Body">The body.</param>
/// <param name="Required">The members that a reader cannot do without.</param>
/// <param name="Words">The members that hold words of an enumeration.</param>
/// <param name="Lists">The members that hold lists.</param>
internal sealed record LineSample(string Kind, string Body, string[] Required, string[] Words, string[] Lists)
{
    public static readonly Guid Proposal = Guid.Parse("019a0000-0000-7000-8000-000000000001");

    public static readonly Guid Alarm = Guid.Parse("019a0000-0000-7000-8000-00000000000a");

    public const string Act = "Harbour Kites";

    public const string Player = "Zoë Ashdown";

    private const string Line = """{"input":1,"name":"Lead","source":"voice","role":"Performer","player":"Zo\u00EB Ashdown","pair":null,"target":{"value":-12},"allowanceDb":null,"note":"left"}""";

    private const string Shown = """
        {"id":"019a0000-0000-7000-8000-000000000001","desk":"desk","input":1,"inputs":[1],"socket":"A1","kind":"trim","from":30,"to":24.5,"reason":"Too hot.",
        "evidence":{"activeS":31.5,"peakDbfs":-3.25,"loudestPassageDbfs":-15,"noiseFloorDbfs":null,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","alarmId":null},
        "affects":["The stage hears it too."],"needs":["shared-preamp"],"state":"applied","digest":"0f1e","createdAt":"2031-05-17T20:15:00+00:00","expiresAt":"2031-05-17T20:25:00+00:00",
        "sequenceId":"019a0000-0000-7000-8000-000000000001","step":1,"steps":1,"outcome":"Read back."}
        """;

    private static readonly string[] Members =
        ["id", "desk", "input", "inputs", "kind", "from", "to", "reason", "evidence", "affects", "needs", "state", "digest", "createdAt", "expiresAt", "sequenceId", "step", "steps"];

    private static readonly string[] LineMembers = ["input", "role"];

    /// <summary>One of each kind that is read.</summary>
    public static IReadOnlyList<LineSample> Read { get; } =
    [
        new(JournalKinds.Proposal, Shown, Members, ["kind", "state"], ["inputs", "affects", "needs"]),
        new(JournalKinds.Confirmed, $$"""{"proposal":"{{Proposal}}","digest":"0f1e","by":"engineer","at":"2031-05-17T20:16:00+00:00","shown":{{Shown}} }""",
            ["proposal", "digest", "by", "at", .. Members.Select(member => $"shown.{member}")], ["shown.kind", "shown.state"], ["shown.inputs", "shown.affects", "shown.needs"]),
        new(JournalKinds.Sending, $$"""{"proposal":"{{Proposal}}"}""", ["proposal"], [], []),
        new(JournalKinds.Alarm, $$"""
            {"id":"{{Alarm}}","groupId":"{{Alarm}}","desk":"desk","input":2,"kind":"pop","priority":"high","atS":31.25,"at":"2031-05-17T20:17:00+00:00","sizeDb":24,"state":"unacknowledged","text":"A pop.","proposalId":null}
            """, ["id", "groupId", "desk", "kind", "priority", "atS", "at", "state", "text"], ["kind", "priority", "state"], []),
        new(JournalKinds.Act, $$"""{"act":{"name":"{{Act}}","startsAt":"21:30:00","inputs":[{{Line}}]},"at":"2031-05-17T20:14:00+00:00"}""",
            ["act", "act.name", "act.inputs", "at", .. LineMembers.Select(member => $"act.inputs.0.{member}")], ["act.inputs.0.role"], ["act.inputs"]),
        new(JournalKinds.ActEnded, $$"""{"act":"{{Act}}","at":"2031-05-17T22:14:00+00:00"}""", ["act", "at"], [], []),
        new(JournalKinds.List, $$"""{"act":{"name":"{{Act}}","startsAt":null,"inputs":[{{Line}}]} }""",
            ["act", "act.name", "act.inputs", .. LineMembers.Select(member => $"act.inputs.0.{member}")], ["act.inputs.0.role"], ["act.inputs"]),
        new(JournalKinds.Show, $$"""
            {"desk":"desk","act":"{{Act}}","begunAt":"2031-05-17T20:14:00+00:00","line":{{Line}},"trimDb":24.5,"padOn":false,"targetDbfs":-12,"checkPeakDbfs":-17.5,"noiseFloorDbfs":-80.5,
            "loudestPassageDbfs":-25,"predictedDbfs":-12.5,"showPeakDbfs":-11.5,"clipped":false,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","aboveCheckDb":6,"soFar":false}
            """, ["desk", "act", "begunAt", "line", "targetDbfs", "clipped", "allowanceDb", "allowanceBasis", .. LineMembers.Select(member => $"line.{member}")], ["line.role"], []),
        new(JournalKinds.Chain, $$"""{"act":"{{Act}}","input":1,"toml":{{JsonValue.Create(ChainTexts.Good).ToJsonString()}}}""", ["input"], [], []),
        new(JournalKinds.PlayerForgotten, """{"player":"Somebody Else"}""", ["player"], [], []),
    ];

    /// <summary>Kinds that are written for whoever exports them, and one of a later version: nobody here reads them.</summary>
    public static IReadOnlyList<LineSample> Unread { get; } =
    [
        .. new[] { JournalKinds.Check, JournalKinds.Patch, JournalKinds.Link, "of-a-later-version" }.Select(kind => new LineSample(kind, """{"id":"kept"}""", [], [], [])),
    ];

    public static LineSample Of(string kind) => Read.Concat(Unread).Single(one => one.Kind == kind);
}
