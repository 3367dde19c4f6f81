using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Report;
using TrimAssist.Service.Tests.Api;
using TrimAssist.Service.Tests.JournalLines;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Report;

/// <summary>The gain sheet: from the journal beside a running service, and as it is written.</summary>
public sealed class GainSheetTests
{
    private static readonly DateTimeOffset Night = new(2026, 7, 25, 21, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task A_sheet_tells_trims_peaks_and_who_confirmed_what_while_the_service_runs_and_after_it_stopped()
    {
        var stage = new ApiStage();
        await stage.InitializeAsync();
        try
        {
            using var list = new StringContent("# act: Kites\ninput,name,source,role,player,note\n1,Lead,voice,performer,Ada,keep close\n2,Spare,voice,spare,,\n", Encoding.UTF8, "text/csv");
            (await stage.Http.PostAsync("api/desks/bench/acts", list, TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();
            await stage.PostAsync("api/desks/bench/acts/Kites/begin");
            var proposal = await stage.ProposalAsync(1, -6);
            await stage.ConfirmAsync(proposal);
            await stage.BecomesAsync(proposal, "applied");
            await stage.PostAsync("api/desks/bench/watch", """{"on":true}""");
            stage.Desk.Play(1, -9);
            await stage.PassAsync(120);
            stage.Desk.Rest();
            await stage.PostAsync("api/desks/bench/watch", """{"on":false}""");

            // The journal's writer is a moment behind the watch's end.
            await ApiStage.UntilAsync(() => Task.FromResult(GainSheetReader.Read(new LineReader(new SqliteJournalReader(stage.DataFolder)), "kites")!.Inputs.All(input => input.ShowPeakDbfs is not null)));
            var sheet = GainSheetReader.Read(new LineReader(new SqliteJournalReader(stage.DataFolder)), "kites")!;

            var lead = sheet.Inputs[0];
            Assert.Equal(("Kites", "bench", true, 2), (sheet.Act, sheet.Desk, sheet.Watched, sheet.Inputs.Count));
            Assert.Equal((proposal["to"]!.GetValue<double>(), "Ada", "keep close", -12.0), (lead.TrimDb, lead.Player, lead.Note, lead.TargetDbfs));
            Assert.InRange(lead.ShowPeakDbfs!.Value, -8, -4);
            // The check was heard at 30 dB of trim and is told at the trim of the end.
            Assert.InRange(lead.CheckPeakDbfs!.Value - (proposal["to"]!.GetValue<double>() - 30), -6, 0);
            Assert.Equal("+4.0 dB, common practice: no show has been heard yet", lead.AllowanceBasis);
            Assert.Equal((SourceRole.Spare, null), (sheet.Inputs[1].Role, sheet.Inputs[1].CheckPeakDbfs));
            Assert.InRange(sheet.Inputs[1].ShowPeakDbfs!.Value, -76, -70);
            var change = Assert.Single(sheet.Changes);
            Assert.Equal((1, ProposalKind.Trim, ProposalState.Applied, "engineer"), (change.Input, change.Kind, change.State, change.By));

            await stage.StopAsync();
            Assert.Equal(GainSheetFormats.ToJson(sheet), GainSheetFormats.ToJson(GainSheetReader.Read(new LineReader(new SqliteJournalReader(stage.DataFolder)), "Kites")!));
            Assert.Null(GainSheetReader.Read(new LineReader(new SqliteJournalReader(stage.DataFolder)), "Nobody"));
            await stage.StartAsync();
        }
        finally
        {
            await stage.DisposeAsync();
        }
    }

    [Theory]
    [InlineData(false, 1)]
    [InlineData(true, 0)]
    public async Task An_act_that_comes_on_again_after_a_fall_keeps_what_was_done_and_one_that_had_ended_begins_afresh(bool ended, int changes)
    {
        var journal = new MemoryJournal();
        var shown = Shown();
        await WriteAsync(journal, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Kites", null, []), Night), ActsJson.Default.ActBody));
        await WriteAsync(journal, JournalKinds.Confirmed, JsonSerializer.Serialize(new ConfirmedBody(shown.Id, shown.Digest, "engineer", Night, shown), GateJournalJson.Lines.ConfirmedBody));
        if (ended)
            await WriteAsync(journal, JournalKinds.ActEnded, JsonSerializer.Serialize(new ActEndedBody("Kites", Night), ActsJson.Default.ActEndedBody));
        var newer = new Act("Kites", null, [new(4, "Cello", null, SourceRole.Performer, null, null, null, null, null)]);
        await WriteAsync(journal, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(newer, Night.AddHours(1)), ActsJson.Default.ActBody));

        var sheet = GainSheetReader.Read(new LineReader(journal), "Kites")!;
        Assert.Equal(changes, sheet.Changes.Count);
        Assert.Equal("Cello", Assert.Single(sheet.Inputs).Name);
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 0)]
    public async Task A_change_whose_proposals_own_line_the_disk_refused_is_in_the_sheet_by_its_confirmation(bool confirmedInTheActsTime, int changes)
    {
        var journal = new MemoryJournal();
        var shown = Shown();
        await WriteAsync(journal, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Kites", null, []), Night), ActsJson.Default.ActBody));
        if (!confirmedInTheActsTime)
            await WriteAsync(journal, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Others", null, []), Night), ActsJson.Default.ActBody));
        await WriteAsync(journal, JournalKinds.Confirmed, JsonSerializer.Serialize(new ConfirmedBody(shown.Id, shown.Digest, "engineer", Night, shown), GateJournalJson.Lines.ConfirmedBody));

        var sheet = GainSheetReader.Read(new LineReader(journal), "Kites")!;

        Assert.Equal(changes, sheet.Changes.Count);
        Assert.All(sheet.Changes, change => Assert.Equal((1, shown.From, shown.To, "engineer"), (change.Input, change.From, change.To, change.By)));
    }

    [Fact]
    public async Task A_sheet_says_how_many_lines_of_its_time_cannot_be_read_and_who_confirmed_all_the_same()
    {
        var shown = Shown();
        NewEntry Line(string kind, string body) => new(Guid.NewGuid(), Night, "bench", kind, 1, body);
        var act = Line(JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Kites", null, []), Night), ActsJson.Default.ActBody));
        var journal = LineList.Of(
        [
            Line(JournalKinds.Show, "null"),
            act,
            Line(JournalKinds.Proposal, JsonSerializer.Serialize(shown, ApiJson.Options)),
            Line(JournalKinds.Confirmed, $$"""{"proposal":"{{shown.Id}}","digest":"x","by":"engineer","at":"2031-05-17T21:00:00+00:00","shown":{"kind":"fader"} }"""),
            Line(JournalKinds.Alarm, "{}"),
            Line(JournalKinds.Act, "an act that nobody can name"),
            Line(JournalKinds.Confirmed, JsonSerializer.Serialize(new ConfirmedBody(shown.Id, "x", "of the next act", Night, null), GateJournalJson.Lines.ConfirmedBody)),
            Line(JournalKinds.Alarm, """{"id":"019a0000-0000-7000-8000-00000000000b","groupId":"019a0000-0000-7000-8000-00000000000b","desk":"bench","input":1,"kind":"pop","priority":"high","atS":1,"at":"2031-05-17T21:00:00+00:00","sizeDb":20,"state":"unacknowledged","text":"A pop.","proposalId":null}"""),
        ]);

        var sheet = GainSheetReader.Read(new LineReader(journal), "Kites")!;

        Assert.Equal(("engineer", shown.To), (sheet.Changes[0].By, sheet.Changes[0].To));
        Assert.Equal((3, 0), (sheet.LinesUnread, sheet.AlarmRates.Alarms));
        Assert.Contains("3 lines of the journal cannot be read", await GainSheetFormats.ToHtmlAsync(sheet), StringComparison.Ordinal);
        Assert.Equal(3, JsonNode.Parse(GainSheetFormats.ToJson(sheet))!["linesUnread"]!.GetValue<int>());
        Assert.DoesNotContain("cannot be read", await GainSheetFormats.ToHtmlAsync(GainSheetReader.Read(new LineReader(LineList.Of([act])), "Kites")!), StringComparison.Ordinal);
    }

    [Fact]
    public void An_act_whose_list_cannot_be_read_has_its_changes_told_all_the_same()
    {
        var shown = Shown();
        var journal = LineList.Of(
        [
            new(Guid.NewGuid(), Night, "bench", JournalKinds.Act, 1, $$"""{"act":{"name":"Kites","startsAt":null,"inputs":[{"input":1,"role":"of-a-later-version"}]},"at":"{{Night:O}}"}"""),
            new(Guid.NewGuid(), Night, "bench", JournalKinds.Confirmed, 1, JsonSerializer.Serialize(new ConfirmedBody(shown.Id, shown.Digest, "engineer", Night, shown), GateJournalJson.Lines.ConfirmedBody)),
        ]);

        var sheet = GainSheetReader.Read(new LineReader(journal), "Kites")!;

        Assert.Empty(sheet.Inputs);
        Assert.Equal(("engineer", 1, Night), (Assert.Single(sheet.Changes).By, sheet.LinesUnread, sheet.BegunAt));
    }

    [Fact]
    public async Task A_sheet_counts_how_often_the_engineer_was_called_while_the_act_was_on()
    {
        var journal = new MemoryJournal();
        await WriteAsync(0, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Kites", null, []), Night), ActsJson.Default.ActBody));
        // Eleven within ten minutes are a flood; one more of the same cause, one suppressed and what came after the act are not counted.
        var alarms = Enumerable.Range(0, 11).Select(number => Alarm(Guid.NewGuid(), 20 * number, number % 2 == 0 ? AlarmPriority.High : AlarmPriority.Low)).ToList();
        foreach (var alarm in alarms)
            await AlarmedAsync(alarm);
        await AlarmedAsync(alarms[0] with { State = AlarmState.Acknowledged });
        await AlarmedAsync(Alarm(alarms[0].Id, 230, AlarmPriority.High));
        await AlarmedAsync(Alarm(Guid.NewGuid(), 240, AlarmPriority.High) with { State = AlarmState.Suppressed });
        await WriteAsync(2400, JournalKinds.Act, JsonSerializer.Serialize(new ActBody(new Act("Others", null, []), Night.AddSeconds(2400)), ActsJson.Default.ActBody));
        await AlarmedAsync(Alarm(Guid.NewGuid(), 2500, AlarmPriority.High));

        var rates = GainSheetReader.Read(new LineReader(journal), "Kites")!.AlarmRates;

        Assert.Equal((11, 11), (rates.Alarms, rates.WorstTenMinutes));
        Assert.Equal((Math.Round(6 / 11.0, 4), 0, Math.Round(5 / 11.0, 4)), (rates.HighShare, rates.MediumShare, rates.LowShare));
        // From the eleventh until fewer than five are left of the last ten minutes: at 720 s, when that of 120 s is ten minutes old.
        Assert.Equal(Math.Round(520 / 2400.0, 4), rates.FloodShare);

        static AlarmReply Alarm(Guid group, int atS, AlarmPriority priority) => new(
            atS == 230 ? Guid.NewGuid() : group, group, "bench", 1 + (atS / 20), AlarmKind.Hot, priority, atS, Night.AddSeconds(atS), null, AlarmState.Unacknowledged, "Look.", null);

        Task AlarmedAsync(AlarmReply alarm) => WriteAsync(alarm.AtS, JournalKinds.Alarm, JsonSerializer.Serialize(alarm, ApiJson.Options));

        Task WriteAsync(double atS, string kind, string body) =>
            journal.AppendAsync(new NewEntry(Guid.NewGuid(), Night.AddSeconds(atS), "bench", kind, 1, body), TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task Html_is_one_document_that_fetches_nothing_and_lets_no_name_become_markup()
    {
        var html = await GainSheetFormats.ToHtmlAsync(Sheet("<script>alert(1)</script>", "=1+1"));

        Assert.StartsWith("<!DOCTYPE html>", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;", html, StringComparison.Ordinal);
        Assert.DoesNotContain("http", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=", html, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(2, html.Split("<svg").Length - 1);
        Assert.Contains("12 alarms, one cause counted once; at most 11 in ten minutes, 50 % high, a flood for 25 % of the time.", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Csv_has_a_row_an_input_empty_cells_for_what_is_not_known_and_no_formulas()
    {
        var lines = GainSheetFormats.ToCsv(Sheet("Say \"hi\", all", "=1+1")).TrimEnd().Split('\n');

        Assert.Equal(3, lines.Length);
        Assert.StartsWith("input,name,source,role,player,trim_db,pad_on,target_dbfs,check_peak_dbfs,show_peak_dbfs,clipped,", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("1,\"Say \"\"hi\"\", all\",voice,performer,", lines[1], StringComparison.Ordinal);
        Assert.Contains(",24.5,false,-12,-18.2,-11.9,false,-25,-80.1,5.1,", lines[1], StringComparison.Ordinal);
        Assert.DoesNotContain(lines, line => line.Contains(",=1+1", StringComparison.Ordinal));
        Assert.Contains(",,,,,,", lines[2], StringComparison.Ordinal);
    }

    [Fact]
    public void Json_is_camel_case_with_numbers_and_nulls()
    {
        var json = JsonNode.Parse(GainSheetFormats.ToJson(Sheet("Lead", "Ada")))!;

        Assert.Equal(("Kites", 24.5, "performer"), (json["act"]!.GetValue<string>(), json["inputs"]![0]!["trimDb"]!.GetValue<double>(), json["inputs"]![0]!["role"]!.GetValue<string>()));
        Assert.True(json["inputs"]![1]!.AsObject().ContainsKey("trimDb"));
        Assert.Null(json["inputs"]![1]!["trimDb"]);
        Assert.Equal((30.0, 24.5, "applied"), (json["changes"]![0]!["from"]!.GetValue<double>(), json["changes"]![0]!["to"]!.GetValue<double>(), json["changes"]![0]!["state"]!.GetValue<string>()));
    }

    private static GainSheet Sheet(string name, string player) => new("Kites", "bench", Night, true, null,
    [
        new(1, name, "voice", SourceRole.Performer, player, 24.5, false, -12, -18.2, -11.9, false, -25, -80.1, 5.1, "+5.1 dB, from 4 shows of this player", ["pop", "hot ×2"], null),
        new(2, null, null, SourceRole.Spare, null, null, null, null, null, null, false, null, null, null, null, [], null),
    ],
    [new(Night, 1, ProposalKind.Trim, SettingValue.Gain(30), SettingValue.Gain(24.5), "engineer", ProposalState.Applied)], new(12, 11, 0.25, 0.5, 0.25, 0.25, 1), 0);

    private static ProposalReply Shown() => new(
        Guid.NewGuid(), "bench", 1, [1], null, ProposalKind.Trim, SettingValue.Gain(30), SettingValue.Gain(24.5), "because", new ProposalEvidence(), [], [], ProposalState.Open,
        "digest", Night, Night, Guid.NewGuid(), 1, 1, null);

    private static Task<AppendResult> WriteAsync(MemoryJournal journal, string kind, string body) =>
        journal.AppendAsync(new NewEntry(Guid.NewGuid(), Night, "bench", kind, 1, body), TestContext.Current.CancellationToken);
}
