using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Contract;
using Xunit;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>One scenario for foreign desks through the whole service: check, propose, confirm, verify, a knob turned by hand, a restart, loss.</summary>
internal static class ConformanceScenario
{
    private const double TrimAfterRestartDb = 6;
    private const double Close = 0.3;
    private const int Seed = 4711;
    private const int MostPresses = 3;

    /// <summary>What went wrong with a desk; <see langword="null"/> where it passed.</summary>
    public static async Task<string?> FaultOfAsync(string id, Func<TimeProvider, IForeignDesk> make)
    {
        try
        {
            await using var stage = await ConformanceStage.StartAsync(make);
            await PassAsync(stage);
            return null;
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            return $"{id}: {fault}";
        }
    }

    private static async Task PassAsync(ConformanceStage stage)
    {
        await stage.UntilAsync("live", async () => (await stage.DeskAsync()).State == LinkState.Live, 5);
        await stage.UntilAsync("trims known", async () => (await stage.InputAsync(3)).TrimDb is { } db && Math.Abs(db - DeskState.FirstTrimDb) < Close, 5);

        var proposals = await CheckAsync(stage, 1, 2, 3);
        Assert.Equal([1, 2, 3], proposals.Select(one => one.Input).Order());
        Assert.All(proposals, one => Assert.Equal((ProposalKind.Trim, ProposalState.Open), (one.Kind, one.State)));
        Assert.All(proposals, one => Assert.InRange(one.From.Db!.Value, DeskState.FirstTrimDb - Close, DeskState.FirstTrimDb + Close));
        Assert.True(proposals[0].To.Db < DeskState.FirstTrimDb && proposals[1].To.Db > DeskState.FirstTrimDb, "too loud goes down, too quiet goes up");
        Assert.Empty(stage.Desk.Writes);

        await ConfirmedAsync(stage, proposals[0]);
        await TurnedByHandAsync(stage, proposals[1]);
        await RestartedAsync(stage, proposals[2]);
        await WithLossAsync(stage);
    }

    private static async Task<IReadOnlyList<ProposalReply>> CheckAsync(ConformanceStage stage, params int[] inputs)
    {
        var check = await stage.StartCheckAsync(inputs);
        await stage.UntilAsync("enough heard", async () => (await stage.CheckAsync(check.Id)).Results.All(one => one.ActiveS > 11), 40);
        var finished = await stage.FinishAsync(check.Id);
        Assert.True(finished.Proposals.Count == inputs.Length, string.Join("; ", finished.Results.Select(one => $"{one.Input}: {one.Withheld ?? one.Advice}")));
        return [.. finished.Proposals.OrderBy(one => one.Input)];
    }

    private static async Task ConfirmedAsync(ConformanceStage stage, ProposalReply shown)
    {
        using var wrong = await stage.WhileAsync(stage.ConfirmAsync(shown.Id, new string('0', shown.Digest.Length), shown.Needs));
        Assert.Equal(HttpStatusCode.Conflict, wrong.StatusCode);
        Assert.Empty(stage.Desk.Writes);

        using var right = await stage.WhileAsync(stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs));
        Assert.True(right.IsSuccessStatusCode, await right.Content.ReadAsStringAsync());
        await SettledAsync(stage, shown.Id);
        Assert.Equal(ProposalState.Applied, (await stage.ProposalAsync(shown.Id)).State);
        Assert.InRange(stage.Desk.State.TrimOf(1), shown.To.Db!.Value - Close, shown.To.Db.Value + Close);

        using var again = await stage.WhileAsync(stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs));
        Assert.True(again.IsSuccessStatusCode, await again.Content.ReadAsStringAsync());
        await stage.PlayAsync(0.5);
        Assert.Single(stage.Desk.Writes);
    }

    private static async Task TurnedByHandAsync(ConformanceStage stage, ProposalReply shown)
    {
        const double Turned = 42;
        stage.Desk.TurnByHand(2, Turned);
        await stage.UntilAsync("the turned knob supersedes", async () => (await stage.ProposalAsync(shown.Id)).State == ProposalState.Superseded, 8);
        Assert.InRange((await stage.InputAsync(2)).TrimDb!.Value, Turned - Close, Turned + Close);
    }

    private static async Task RestartedAsync(ConformanceStage stage, ProposalReply shown)
    {
        stage.Desk.TurnOff();
        await stage.PlayAsync(6);
        Assert.Equal(LinkState.Lost, (await stage.DeskAsync()).State);
        Assert.Null((await stage.InputAsync(1)).PeakDbfs);
        using (var refused = await stage.WhileAsync(stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs)))
            Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);

        stage.Desk.State.ResetTrims(TrimAfterRestartDb);
        stage.Desk.TurnOn();
        await stage.UntilAsync("live again", async () => (await stage.DeskAsync()).State == LinkState.Live, 10);
        await stage.UntilAsync("trims read again", async () => (await stage.InputAsync(1)).TrimDb is { } db && Math.Abs(db - TrimAfterRestartDb) < Close, 5);
        await stage.UntilAsync("the restart supersedes", async () => (await stage.ProposalAsync(shown.Id)).State == ProposalState.Superseded, 5);
        Assert.Single(stage.Desk.Writes);
    }

    private static async Task WithLossAsync(ConformanceStage stage)
    {
        var lostBefore = (await stage.DeskAsync()).FramesLost;
        stage.Desk.Lose(0.2, Seed);
        var shown = Assert.Single(await CheckAsync(stage, 1));
        Assert.True((await stage.DeskAsync()).FramesLost > lostBefore + 10, "lost frames are counted");
        await ConfirmThroughLossAsync(stage, shown);
        await SettledAsync(stage, shown.Id);

        // Sent once; where that one datagram was lost, the proposal says so and the desk stands where it stood.
        var taken = stage.Desk.Writes.Count == 2;
        var settled = await stage.ProposalAsync(shown.Id);
        Assert.True(settled.State == ProposalState.Applied == taken, $"{settled.State} ({settled.Outcome}), and the desk {(taken ? "took" : "did not take")} it");
        Assert.Equal(taken ? shown.To.Db!.Value : TrimAfterRestartDb, stage.Desk.State.TrimOf(1), Close);
    }

    // Where every question to the desk was lost, the gate says so and sends nothing: the engineer presses again.
    private static async Task ConfirmThroughLossAsync(ConformanceStage stage, ProposalReply shown)
    {
        for (var press = 1; ; press++)
        {
            using var answer = await stage.WhileAsync(stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs));
            if (answer.IsSuccessStatusCode)
                return;
            var said = await answer.Content.ReadAsStringAsync();
            Assert.True(press < MostPresses && said.Contains("desk-not-live", StringComparison.Ordinal), said);
            Assert.Single(stage.Desk.Writes);
        }
    }

    private static Task SettledAsync(ConformanceStage stage, Guid id) =>
        stage.UntilAsync("settled", async () => (await stage.ProposalAsync(id)).State is not (ProposalState.Open or ProposalState.Confirmed), 5);
}
