using System.Net;
using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.TestKit.Midi;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>A session at one end of a MIDI cable, a desk in the test's hands at the other; one thread, one clock.</summary>
internal sealed class MidiBench : IDisposable
{
    public const string Meters = """
        [[meters]]
        poly_pressure = { channel = 1, note = "{input+35}" }
        quantity = "peak"
        range_db = [-63.5, 0.0]
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        """;

    private static readonly IPEndPoint Here = new(IPAddress.Loopback, 0);
    private readonly MidiDeskSocket _socket;
    private readonly DeskWriter _writer;
    private readonly QueueContext _context = new();
    private readonly ProposalBook _book = new(static _ => { });
    private readonly Ear _ear = new();

    public MidiBench(params string[] parts)
    {
        Cable = new MidiCable(Time);
        Profile = Read([Meters, .. parts]);
        _socket = new MidiDeskSocket(Cable.Near, new SourceFilter([Here.Address]), Here);
        Session = new DeskSession(Profile, Sink, _socket, _socket.Sources, Time);
        _writer = new DeskWriter(Session);
        Session.Start();
        Turn();
    }

    public FakeTimeProvider Time { get; } = new();

    public MidiCable Cable { get; }

    public HeardSink Sink { get; } = new();

    public DeskProfile Profile { get; }

    public DeskSession Session { get; }

    /// <summary>What the desk has heard since it was last asked for.</summary>
    public List<string> Heard
    {
        get
        {
            Cable.Far.Drain(_ear, int.MaxValue);
            List<string> heard = [.. _ear.Heard];
            _ear.Heard.Clear();
            return heard;
        }
    }

    public static DeskProfile Read(params string[] parts)
    {
        var text = $"""
            id = "keys"
            inputs = 4
            [connection]
            transport = "midi"
            port = "cable"
            {string.Join('\n', parts)}
            """;
        var reading = ProfileReader.Read(text, "keys.toml");
        Assert.Empty(reading.Errors);
        return reading.Profile!;
    }

    /// <summary>The desk says something.</summary>
    public void Say(string bytes)
    {
        Assert.True(Cable.Far.TrySend(Convert.FromHexString(bytes.Replace(" ", "", StringComparison.Ordinal)), out _));
        Turn();
    }

    public void Turn()
    {
        _socket.Drain(Session, int.MaxValue);
        Session.Tick();
        _context.RunAll();
    }

    /// <summary>Lets time pass while meters come.</summary>
    public void Play(double seconds)
    {
        for (var left = seconds; left > 0; left -= 0.05)
        {
            Time.Advance(TimeSpan.FromMilliseconds(50));
            Say("A0 24 40 A0 25 41 A0 26 42 A0 27 43");
        }
    }

    public void Lose(int packets) => ((TrimAssist.Desk.Midi.IMidiReceiver)_socket).Lost(packets);

    /// <summary>Has a change proposed, confirmed, granted and sent.</summary>
    public Task<WriteOutcome> Write(ProposalKind kind, SettingValue to, int input)
    {
        var gate = new ConfirmationGate(_book);
        var now = new Moment(TimeSpan.Zero, DateTimeOffset.UnixEpoch);
        var view = new DeskView(LinkState.Live, Session.Settings, 0.4);
        var proposals = new ProposalDesk(Profile.Description, _book, Session.Settings, Guid.NewGuid);
        var proposal = proposals.Propose(new TrimPlan([input], [new(kind, to, Saying.Plain("because"))], null, new ProposalEvidence()), now, ProposalLife.Trim)!;
        Assert.Equal(GateCode.Accepted, gate.Reserve(new Confirmation(proposal.Id, proposal.Digest, proposal.Needs, "test"), view, now).Code);
        return _context.Begin(() => _writer.ApplyAsync(gate.Grant(proposal.Id, view)!, CancellationToken.None));
    }

    public void Dispose() => _socket.Dispose();

    private sealed class Ear : TrimAssist.Desk.Midi.IMidiReceiver
    {
        public List<string> Heard { get; } = [];

        public void Connected(bool again)
        {
        }

        public void Receive(ReadOnlySpan<byte> bytes, long timestamp) => Heard.Add(string.Join(' ', bytes.ToArray().Select(one => one.ToString("X2"))));

        public void Restored(ReadOnlySpan<byte> messages)
        {
        }

        public void Lost(int packets)
        {
        }
    }
}
