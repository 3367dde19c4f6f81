using System.Net;
using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Security;
using TrimAssist.Service.Surfaces;
using TrimAssist.Service.Tests.Desks.Midi;
using TrimAssist.Service.Tests.Foreign;
using TrimAssist.TestKit.Midi;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>Pads and a foot switch behind real RTP-MIDI sockets, before the whole service and a scripted desk.</summary>
public sealed class MidiSurfaceTests : IAsyncDisposable
{
    private const int FirstPad = 36;
    private const int Slots = 4;
    private const int FirstDecline = 40;
    private const int Pedal = 64;
    private const int PedalLamp = 20;
    private static readonly LampValues Values = new(Off: 0, Wait: 1, Ready: 127, Page: 64);
    private readonly RtpDesk _pads = new();
    private ConformanceStage _stage = null!;

    [Theory]
    [InlineData(0)]
    [InlineData(0.2)]
    public async Task A_pad_confirms_what_its_lamp_showed_for_a_second_once_whatever_is_lost_on_the_way(double loss)
    {
        var chance = new Random(20260725);
        _pads.IsLost = () => chance.NextDouble() < loss;
        var proposals = await ProposedAsync(Role.Engineer);
        var (down, up) = (proposals.Single(one => one.Input == 1), proposals.Single(one => one.Input == 2));

        // A danger that has to be named back is for the page; a press there does nothing.
        await UntilAsync("one slot takes a press, the other is for the page", () => SlotAt(Values.Ready) > 0 && SlotAt(Values.Page) > 0);
        await PressAsync(FirstPad + SlotAt(Values.Page) - 1);
        await _stage.PlayAsync(1);
        Assert.Empty(_stage.Desk.Writes);

        // Somebody whose press was lost sees no change and presses again.
        await UntilAsync("confirmed", async () =>
        {
            if (SlotAt(Values.Ready) is var slot and > 0)
                await PressAsync(FirstPad + slot - 1, lost: chance.NextDouble() < loss);
            return (await _stage.ProposalAsync(down.Id)).State == ProposalState.Applied;
        });
        Assert.Equal((1, down.To.Db!.Value), Assert.Single(_stage.Desk.Writes));

        await UntilAsync("declined", async () =>
        {
            if (SlotAt(Values.Page) is var slot and > 0)
                await PressAsync(FirstDecline + slot - 1, lost: chance.NextDouble() < loss);
            return (await _stage.ProposalAsync(up.Id)).State == ProposalState.Declined;
        });
        await UntilAsync("all lamps are out", () => Enumerable.Range(0, Slots).All(slot => Lamp(0x90, FirstPad + slot) == Values.Off));
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task Whoever_is_there_anew_has_been_shown_nothing_and_two_pads_at_once_are_no_press()
    {
        var proposals = await ProposedAsync(Role.Engineer);
        await UntilAsync("ready", () => SlotAt(Values.Ready) > 0);
        var slot = SlotAt(Values.Ready);
        _pads.Say([[0x90, (byte)(FirstPad + slot - 1), 100], [0x90, (byte)(FirstDecline + slot - 1), 100]]);
        await _stage.PlayAsync(1);
        Assert.Empty(_stage.Desk.Writes);

        _pads.TurnOff();
        await _stage.PlayAsync(8);
        _pads.TurnOn();
        _pads.Heard.Clear();
        await UntilAsync("ready again", () => Lamp(0x90, FirstPad + slot - 1) == Values.Ready);
        Assert.Equal(Values.Wait, _pads.Heard.Find(message => message[0] == 0x90 && message[1] == FirstPad + slot - 1)![2]);
        Assert.Empty(_stage.Desk.Writes);
        await PressAsync(FirstPad + slot - 1);
        await UntilAsync("applied", async () => (await _stage.ProposalAsync(proposals.Single(one => one.Input == 1).Id)).State == ProposalState.Applied);
        Assert.Single(_stage.Desk.Writes);
    }

    [Fact]
    public async Task The_stage_asks_for_a_safe_patch_by_a_foot_switch_and_a_press_that_comes_late_from_the_journal_is_none()
    {
        await StartAsync("brook", Role.Stage, Pads());
        await UntilAsync("the surface is there", () => Lamp(0xB0, PedalLamp) == Values.Off);
        _pads.Say([[0xB0, Pedal, 127]], lost: true);
        _pads.Say([[0xB0, 7, 1]]);
        await _stage.PlayAsync(1);
        Assert.Empty(await _stage.OpenAsync());

        _pads.Say([[0xB0, Pedal, 0]]);
        await _stage.StepAsync();
        _pads.Say([[0xB0, Pedal, 127]]);
        await UntilAsync("asked", () => Lamp(0xB0, PedalLamp) == Values.Wait);
        var mute = Assert.Single(await _stage.OpenAsync());
        Assert.Equal((ProposalKind.Mute, 2), (mute.Kind, mute.Input));
    }

    [Fact]
    public async Task A_surface_that_begins_the_session_itself_is_let_in_and_somebody_else_is_not()
    {
        var listen = new IPEndPoint(IPAddress.Loopback, FreePort.FindPair());
        await StartAsync("brook", Role.Stage, new MidiPlace(null, null, listen, [IPAddress.Parse("127.0.0.7")], Keys()));
        var heard = new HeardMidi();
        using var stranger = MidiPorts.Invite(listen, null, new SourceFilter([listen.Address]), TimeProvider.System);
        for (var step = 0; step < 40; step++)
        {
            stranger.Drain(heard, 16);
            await _stage.StepAsync();
        }

        Assert.NotNull(stranger.Trouble);
        using var pedals = MidiPorts.Invite(listen, new IPEndPoint(IPAddress.Parse("127.0.0.7"), 0), new SourceFilter([listen.Address]), TimeProvider.System);
        await _stage.UntilAsync("lamps are told", () => { pedals.Drain(heard, 16); return Task.FromResult(heard.Pieces.Count > 0); }, 300);
        Assert.True(pedals.TrySend([0xB0, Pedal, 127], out _));
        await _stage.UntilAsync("asked", async () => (await _stage.OpenAsync()).Count == 1, 300);
    }

    public async ValueTask DisposeAsync()
    {
        if (_stage is not null)
            await _stage.DisposeAsync();
        _pads.Dispose();
    }

    private MidiPlace Pads() => new(null, _pads.EndPoint, null, [IPAddress.Loopback], Keys());

    private static MidiKeys Keys()
    {
        var presses = new Dictionary<MidiKey, Press> { [new(IsNote: false, 1, Pedal)] = new(PressKind.Patch, 2) };
        var lamps = new Dictionary<Press, MidiKey> { [new(PressKind.Patch, 2)] = new(IsNote: false, 1, PedalLamp) };
        for (var slot = 1; slot <= Slots; slot++)
        {
            presses[new(IsNote: true, 1, FirstPad + slot - 1)] = new(PressKind.Confirm, slot);
            presses[new(IsNote: true, 1, FirstDecline + slot - 1)] = new(PressKind.Decline, slot);
            lamps[new(PressKind.Confirm, slot)] = new(IsNote: true, 1, FirstPad + slot - 1);
        }

        return new(presses, lamps, Values);
    }

    private async Task StartAsync(string dialect, Role role, MidiPlace place)
    {
        _stage = await ConformanceStage.StartAsync(Dialects.All.Single(one => one.Id == dialect), null, new SurfaceOptions("pads", dialect, Slots, role, null, place));
        await _stage.UntilAsync("known", async () => await _stage.InputAsync(2) is { TrimDb: not null, PeakDbfs: not null }, 8);
    }

    private async Task<IReadOnlyList<ProposalReply>> ProposedAsync(Role role)
    {
        await StartAsync("sill", role, Pads());
        var check = await _stage.StartCheckAsync(1, 2);
        await UntilAsync("enough heard", async () => (await _stage.CheckAsync(check.Id)).Results.All(one => one.ActiveS > 11));
        return (await _stage.FinishAsync(check.Id)).Proposals;
    }

    // The slot whose lamp was last told this; 0 where there is none.
    private int SlotAt(int value) => Enumerable.Range(1, Slots).FirstOrDefault(slot => Lamp(0x90, FirstPad + slot - 1) == value);

    private int? Lamp(int status, int number) => _pads.Heard.FindLast(message => message[0] == status && message[1] == number)?[2];

    private async Task PressAsync(int note, bool lost = false)
    {
        _pads.Say([[0x90, (byte)note, 100]], lost);
        await _stage.StepAsync();
        _pads.Say([[0x80, (byte)note, 0]], lost);
        await _stage.PlayAsync(0.3);
        _pads.Attend();
    }

    private Task UntilAsync(string what, Func<bool> holds) => UntilAsync(what, () => Task.FromResult(holds()));

    // The surface has a pace of its own: the desk's clock is moved until it has come round.
    private Task UntilAsync(string what, Func<Task<bool>> holds) => _stage.UntilAsync(
        what,
        () =>
        {
            _pads.Attend();
            return holds();
        },
        300);
}
