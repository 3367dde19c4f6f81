using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Contract;
using Xunit;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>Preamps belong to sockets: inputs may share one, and may be patched to another while somebody looks at a proposal.</summary>
public sealed class SocketTests : IAsyncLifetime
{
    private ConformanceStage _stage = null!;

    public async ValueTask InitializeAsync()
    {
        _stage = await ConformanceStage.StartAsync(Dialects.All.Single(dialect => dialect.Id == "brook"));
        _stage.Desk.State.Sockets[3] = 3;
        await _stage.UntilAsync("live", async () => (await _stage.DeskAsync()).State == LinkState.Live, 5);
        await _stage.UntilAsync("patched as the desk says", async () => await _stage.InputAsync(4) is { Socket: "3", TrimDb: not null }, 12);
    }

    [Fact]
    public async Task A_preamp_that_another_input_hears_has_to_be_named_back()
    {
        var shown = await ProposeAsync(3);
        Assert.Contains("shared-preamp", shown.Needs);
        Assert.Contains("input 4", shown.Affects);
        using (var refused = await _stage.WhileAsync(_stage.ConfirmAsync(shown.Id, shown.Digest, [])))
            Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.Empty(_stage.Desk.Writes);

        using var taken = await _stage.WhileAsync(_stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs));
        Assert.True(taken.IsSuccessStatusCode);
        await _stage.UntilAsync("applied", async () => (await _stage.ProposalAsync(shown.Id)).State == ProposalState.Applied, 5);
        Assert.Equal(shown.To.Db!.Value, (await _stage.InputAsync(4)).TrimDb!.Value, 1e-6);
        Assert.Equal((3, shown.To.Db.Value), Assert.Single(_stage.Desk.Writes));
    }

    [Fact]
    public async Task An_input_patched_elsewhere_before_the_confirmation_is_refused_and_nothing_is_written()
    {
        var shown = await ProposeAsync(1);
        _stage.Desk.State.Sockets[0] = 2;
        using var refused = await _stage.WhileAsync(_stage.ConfirmAsync(shown.Id, shown.Digest, shown.Needs));
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.Contains("value-moved", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(ProposalState.Superseded, (await _stage.ProposalAsync(shown.Id)).State);
        await _stage.PlayAsync(1);
        Assert.Empty(_stage.Desk.Writes);
    }

    public async ValueTask DisposeAsync() => await _stage.DisposeAsync();

    private async Task<ProposalReply> ProposeAsync(int input)
    {
        var check = await _stage.StartCheckAsync(input);
        await _stage.UntilAsync("enough heard", async () => (await _stage.CheckAsync(check.Id)).Results[0].ActiveS > 11, 40);
        return Assert.Single((await _stage.FinishAsync(check.Id)).Proposals);
    }
}
