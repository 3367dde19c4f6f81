using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Festival;

/// <summary>
/// A festival day of three stages in turn and nine acts, one player in two bands, from input lists to gain sheets: the whole service, its desks on the wire,
/// its crew at the HTTP interface, its sheets by the command line.
/// </summary>
public sealed class FestivalDayTests
{
    private const double TargetDbfs = -12;

    /// <summary>So many standard errors above nothing the mean of eight pairs comes by chance once in forty times, of more pairs less often (Student's t, seven degrees of freedom).</summary>
    private const double OneInForty = 2.365;

    [Fact]
    public async Task A_day_runs_from_input_lists_to_gain_sheets_and_its_ninth_act_lands_nearer_to_the_target_than_its_first_and_than_it_would_without_learning()
    {
        await using var day = await FestivalStages.StartAsync(FestivalDay.Stages.Select((id, stage) => (id, Acts(stage))));
        for (var act = 0; act < FestivalDay.Acts.Length; act++)
            Assert.All((await day.TakeInAsync(StageOf(act), FestivalDay.ListOf(act)))["problems"]!.AsArray(), problem => Assert.Contains("read as Latin-1", problem!["text"]!.GetValue<string>(), StringComparison.Ordinal));

        List<double[]> distances = [];
        for (var act = 0; act < FestivalDay.Acts.Length; act++)
        {
            await day.PlayAsync(StageOf(act), FestivalDay.Acts[act]);
            distances.Add(Distances(day.TruePeaks(StageOf(act), act / FestivalDay.Stages.Length)));
            await day.ChangeOverAsync(StageOf(act));
        }

        await AssertKnownAsync(day);
        var ninth = FestivalDay.Acts.Length - 1;
        await AssertSheetsAsync(day, FestivalDay.Acts[ninth], day.TruePeaks(StageOf(ninth), 2));
        await AssertRecallAsync(day);
        var sheet = await ReportAsync(day.DataFolder, FestivalDay.Acts[ninth], "json");
        await day.StopServiceAsync();
        Assert.Equal(sheet, await ReportAsync(day.DataFolder, FestivalDay.Acts[ninth], "json"));

        // Each stage's last act again, note for note, before a service that knows nobody.
        await using var strangers = await FestivalStages.StartAsync(LastRound.Select(act => (StageOf(act), Enumerable.Repeat(act, 1))));
        Dictionary<int, double[]> unlearned = [];
        foreach (var act in LastRound)
        {
            await strangers.TakeInAsync(StageOf(act), FestivalDay.ListOf(act));
            await strangers.PlayAsync(StageOf(act), FestivalDay.Acts[act]);
            unlearned[act] = Distances(strangers.TruePeaks(StageOf(act), 0));
            Assert.Equal(FestivalDay.Inputs, await strangers.ForgetAllAsync());
        }

        // Input by input the same playing: what learning brought. Input by input other people with the same habits: what the day brought.
        var byLearning = Nearer([.. LastRound.SelectMany(act => unlearned[act])], [.. LastRound.SelectMany(act => distances[act])]);
        var byTheDay = Nearer(distances[0], distances[ninth]);
        var figures = $"mean distance from the target: {Means(distances)} dB; the last three without learning {Means(unlearned.Values)} dB; "
            + $"nearer by learning {byLearning.MeanDb:0.00} ± {byLearning.ErrorDb:0.00} dB, the ninth than the first {byTheDay.MeanDb:0.00} ± {byTheDay.ErrorDb:0.00} dB";
        TestContext.Current.TestOutputHelper?.WriteLine(figures);
        Assert.True(byLearning.MeanDb > OneInForty * byLearning.ErrorDb, figures);
        Assert.True(byTheDay.MeanDb > OneInForty * byTheDay.ErrorDb, figures);
        Assert.True(distances[ninth].Average() < unlearned[ninth].Average(), figures);
    }

    private static IEnumerable<int> LastRound => Enumerable.Range(FestivalDay.Acts.Length - FestivalDay.Stages.Length, FestivalDay.Stages.Length);

    private static string StageOf(int act) => FestivalDay.Stages[FestivalDay.StageOf(act)];

    private static IEnumerable<int> Acts(int stage) => Enumerable.Range(0, FestivalDay.Acts.Length).Where(act => FestivalDay.StageOf(act) == stage);

    private static string Means(IEnumerable<double[]> acts) => string.Join(' ', acts.Select(act => $"{act.Average():0.00}"));

    private static double[] Distances(double[] peaks) => [.. peaks.Select(peak => Math.Abs(peak - TargetDbfs))];

    /// <summary>How much nearer the inputs came from one time to the other: the mean of the pairs' differences, and its standard error.</summary>
    private static (double MeanDb, double ErrorDb) Nearer(double[] before, double[] after)
    {
        var nearer = before.Zip(after, (was, now) => was - now).ToArray();
        var mean = nearer.Average();
        return (mean, Math.Sqrt(nearer.Sum(db => (db - mean) * (db - mean)) / (nearer.Length - 1) / nearer.Length));
    }

    // The first act's harmony singer leads this one: another input, another desk, the same person.
    private static async Task AssertKnownAsync(FestivalStages day)
    {
        var inputs = JsonNode.Parse(await ReportAsync(day.DataFolder, FestivalDay.Acts[FestivalDay.OtherBand], "json"))!["inputs"]!.AsArray();
        var known = inputs.Where(row => row!["allowanceBasis"]!.GetValue<string>().EndsWith("of this player", StringComparison.Ordinal)).Select(row => row!["input"]!.GetValue<int>());
        Assert.Equal([FestivalDay.LeadsOn], known);
    }

    private static async Task AssertSheetsAsync(FestivalStages day, string act, double[] truth)
    {
        var csv = await ReportAsync(day.DataFolder, act, "csv");
        Assert.Equal(1 + FestivalDay.Inputs, csv.Split('\n').Length);
        Assert.StartsWith("input,name,source,role,player,trim_db", csv, StringComparison.Ordinal);
        var html = await ReportAsync(day.DataFolder, act, "html");
        Assert.Contains(act, html, StringComparison.Ordinal);
        Assert.Equal(FestivalDay.Inputs, html.Split("<svg").Length - 1);

        var sheet = JsonNode.Parse(await ReportAsync(day.DataFolder, act, "json"))!;
        Assert.True(sheet["watched"]!.GetValue<bool>());
        var inputs = sheet["inputs"]!.AsArray();
        Assert.Equal(FestivalDay.Inputs, inputs.Count);
        Assert.All(inputs.Zip(truth), row => Assert.Equal(row.Second, row.First!["showPeakDbfs"]!.GetValue<double>(), 0.3));
        Assert.All(inputs, row => Assert.NotNull(row!["checkPeakDbfs"]));
        Assert.NotEmpty(sheet["changes"]!.AsArray());
        Assert.All(sheet["changes"]!.AsArray(), change => Assert.Equal("applied", change!["state"]!.GetValue<string>()));
    }

    // The first act comes back for an encore, its harmony singer gone and a fiddler in her place.
    private static async Task AssertRecallAsync(FestivalStages day)
    {
        var (stage, act) = (StageOf(0), FestivalDay.Acts[0]);
        var list = System.Text.Encoding.UTF8.GetString(FestivalDay.ListOf(0)).Replace($"Harmony,voice,performer,{FestivalDay.PlayerOf(0, 8)}", "Fiddle,fiddle,performer,Una Reed", StringComparison.Ordinal);
        await day.TakeInAsync(stage, System.Text.Encoding.UTF8.GetBytes(list));
        var then = JsonNode.Parse(await ReportAsync(day.DataFolder, act, "json"))!["inputs"]!.AsArray().Select(row => row!["trimDb"]!.GetValue<double>()).ToArray();
        var before = day.TrimsOf(stage);

        var recalled = (await day.RecallAsync(stage, act))["inputs"]!.AsArray();

        var differences = recalled.Select(one => Math.Abs(one!["differenceDb"]?.GetValue<double>() ?? 0)).ToArray();
        Assert.Equal(differences.OrderDescending(), differences);
        Assert.StartsWith("Changed since", recalled.First(one => one!["input"]!.GetValue<int>() == 8)!["note"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal(before, day.TrimsOf(stage));
        Assert.Equal(recalled.Count(one => one!["proposal"] is not null), await day.ConfirmAllAsync(stage));
        // What is not proposed stays: the fiddle's input, and where the pad stands otherwise than then.
        var proposed = recalled.Where(one => one!["proposal"] is not null).Select(one => one!["input"]!.GetValue<int>()).ToHashSet();
        Assert.InRange(proposed.Count, 4, 7);
        Assert.Equal(Enumerable.Range(1, FestivalDay.Inputs).Select(input => proposed.Contains(input) ? then[input - 1] : before[input - 1]), day.TrimsOf(stage));
    }

    private static async Task<string> ReportAsync(string folder, string act, string format)
    {
        await using var report = TheProgram.TrimAssist("report", "--data", folder, "--act", act, "--format", format);
        await report.EndAsync(TimeSpan.FromSeconds(60));
        Assert.True(report.ExitCode == 0, string.Join('\n', report.Errors));
        return string.Join('\n', report.Output);
    }
}
