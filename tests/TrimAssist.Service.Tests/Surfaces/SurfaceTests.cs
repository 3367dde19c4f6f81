using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;
using TrimAssist.Service.Tests.Foreign;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>A controller on a real socket before the whole service and a scripted desk.</summary>
public sealed class SurfaceTests : IAsyncDisposable
{
    private const string Answer = "/trimassist/answer";
    private readonly ForeignDesk _controller = new();
    private readonly IPEndPoint _listen = new(IPAddress.Loopback, FreePort.Find(ProtocolType.Udp));
    private ConformanceStage _stage = null!;

    [Fact]
    public async Task A_press_confirms_what_was_shown_for_a_second_and_a_danger_is_left_to_the_page()
    {
        var proposals = await ProposedAsync("sill", Role.Engineer);
        var (down, up) = (proposals.Single(one => one.Input == 1), proposals.Single(one => one.Input == 2));
        Assert.Contains(Dangers.OpenIncrease, up.Needs);

        await PressAsync(SlotOf(down), "confirm");
        await UntilSaidAsync(Answer, "wait");
        Assert.Empty(_stage.Desk.Writes);

        await UntilSaidAsync($"/trimassist/slot/{SlotOf(down)}/state", "ready");
        Assert.Equal($"In 1: trim 30 -> {down.To.Db:0.#} dB", Said($"/trimassist/slot/{SlotOf(down)}/text"));
        await PressAsync(SlotOf(down), "confirm");
        await _stage.UntilAsync("applied", async () => (await _stage.ProposalAsync(down.Id)).State == ProposalState.Applied, 8);
        Assert.Equal((1, down.To.Db!.Value), Assert.Single(_stage.Desk.Writes));

        Assert.Equal("page", Said($"/trimassist/slot/{SlotOf(up)}/state"));
        await PressAsync(SlotOf(up), "confirm");
        await UntilSaidAsync(Answer, "page");
        await PressAsync(SlotOf(up), "decline");
        await UntilSaidAsync(Answer, "declined");
        Assert.Equal(ProposalState.Declined, (await _stage.ProposalAsync(up.Id)).State);
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task Who_is_not_let_in_presses_nothing_and_a_stages_surface_confirms_nothing()
    {
        var proposals = await ProposedAsync("sill", Role.Stage);
        using var stranger = new ForeignDesk("127.0.0.5");
        stranger.Service = _listen.Serialize();
        await _stage.PlayAsync(2);
        stranger.Say(new Protocols.Osc.OscMessage("/trimassist/slot/1/confirm"));
        await PressAsync(1, "confirm");
        await UntilSaidAsync(Answer, "not-allowed");
        await _stage.PlayAsync(1);
        Assert.Equal("empty", Said("/trimassist/slot/1/state"));
        Assert.Empty(_stage.Desk.Writes);
        Assert.All(await Task.WhenAll(proposals.Select(one => _stage.ProposalAsync(one.Id))), one => Assert.Equal(ProposalState.Open, one.State));
    }

    [Fact]
    public async Task The_stage_asks_for_a_safe_patch_by_a_pedal()
    {
        await StartAsync("brook", Role.Stage);
        _controller.Service = _listen.Serialize();
        _controller.Say(new Protocols.Osc.OscMessage("/trimassist/input/2/patch", Protocols.Osc.OscArgument.Of(1)));
        await UntilSaidAsync(Answer, "asked");
        var mute = Assert.Single(await _stage.OpenAsync());
        Assert.Equal((ProposalKind.Mute, 2), (mute.Kind, mute.Input));
    }

    public async ValueTask DisposeAsync()
    {
        if (_stage is not null)
            await _stage.DisposeAsync();
        _controller.Dispose();
    }

    private async Task StartAsync(string dialect, Role role)
    {
        var surface = new SurfaceOptions("pedals", dialect, 4, role, null, new OscPlace(_listen, _controller.EndPoint, [IPAddress.Loopback]));
        _stage = await ConformanceStage.StartAsync(Dialects.All.Single(one => one.Id == dialect), null, surface);
        await _stage.UntilAsync("known", async () => await _stage.InputAsync(2) is { TrimDb: not null, PeakDbfs: not null }, 8);
    }

    private async Task<IReadOnlyList<ProposalReply>> ProposedAsync(string dialect, Role role)
    {
        await StartAsync(dialect, role);
        var check = await _stage.StartCheckAsync(1, 2);
        await _stage.UntilAsync("enough heard", async () => (await _stage.CheckAsync(check.Id)).Results.All(one => one.ActiveS > 11), 40);
        var proposals = (await _stage.FinishAsync(check.Id)).Proposals;
        if (role != Role.Stage)
            await UntilAsync("shown", () => proposals.All(one => Slot(one) > 0));
        return proposals;
    }

    private int SlotOf(ProposalReply proposal) => Slot(proposal) is var slot and > 0 ? slot : throw new InvalidOperationException("not shown");

    private int Slot(ProposalReply proposal) => Enumerable.Range(1, 4).FirstOrDefault(slot => string.Equals(Said($"/trimassist/slot/{slot}/digest"), proposal.Digest, StringComparison.Ordinal));

    private async Task PressAsync(int slot, string what)
    {
        _controller.Service = _listen.Serialize();
        _controller.Say(new Protocols.Osc.OscMessage($"/trimassist/slot/{slot}/{what}", Protocols.Osc.OscArgument.Of(1)));
        await _stage.StepAsync();
    }

    private Task UntilSaidAsync(string address, string word) => UntilAsync($"{address} says {word}", () => string.Equals(Said(address), word, StringComparison.Ordinal));

    // The surface has a pace of its own: the desk's clock is moved until it has come round.
    private Task UntilAsync(string what, Func<bool> holds) => _stage.UntilAsync(
        what,
        () =>
        {
            _controller.Attend();
            return Task.FromResult(holds());
        },
        300);

    private string? Said(string address) => _controller.HeardAt(address) is [.., var last] ? last.Arguments[0].Text : null;
}
