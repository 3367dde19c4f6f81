using Microsoft.Extensions.Time.Testing;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>A session over a real TCP connection on loopback, turned by the test on a clock of its own.</summary>
internal sealed class StreamBench : IDisposable
{
    private const int ManyTurns = 20_000;
    private readonly TcpDeskSocket _socket;

    public StreamBench(bool slip, bool deskIsOn = true, bool listens = false, StreamDesk? backup = null)
    {
        Desk = new StreamDesk(slip);
        if (!deskIsOn)
            Desk.TurnOff();
        var framing = slip ? "slip" : "length";
        var listen = listens ? "listen = \"127.0.0.1:0\"" : "";
        var second = backup is null ? "" : $"backup = \"{backup.EndPoint}\"";
        var profile = LinkProfiles.Of($"transport = \"tcp\"\nframing = \"{framing}\"\ndesk = \"{Desk.EndPoint}\"\n{listen}\n{second}", LinkProfiles.Peaks, LinkProfiles.Trim);
        _socket = new TcpDeskSocket(profile.Connection, new ReconnectPace(() => 0.5), Time);
        Session = new DeskSession(profile, Sink, _socket, _socket.Sources, Time);
        Session.Start();
    }

    public FakeTimeProvider Time { get; } = new();

    public StreamDesk Desk { get; }

    public HeardSink Sink { get; } = new();

    public DeskSession Session { get; }

    public IDeskTransport Transport => _socket;

    public System.Net.IPEndPoint LocalEndPoint => _socket.LocalEndPoint!;

    /// <summary>Both sides take in what waits, without time passing.</summary>
    public void Turn()
    {
        // The network's own threads bring a connection about: give them a moment, never the clock.
        _socket.Wait(TimeSpan.FromMilliseconds(1));
        _socket.Drain(Session, 4096);
        Session.Tick();
        Desk.Attend();
    }

    /// <summary>Turns until something has come about, without time passing.</summary>
    public void TurnUntil(Func<bool> holds)
    {
        for (var turn = 0; !holds(); turn++)
        {
            Assert.True(turn < ManyTurns, $"never came about; {Session.LinkReason}");
            Turn();
        }
    }

    /// <summary>Lets time pass in small steps while the desk sends meters, if it can.</summary>
    public void Play(double seconds)
    {
        for (var passed = 0.0; passed < seconds; passed += 0.05)
        {
            Time.Advance(SessionBench.Frame);
            if (Desk.HasService)
                SayPeaks();
            Turn();

            // The network's threads have their own clock: ours stands still while a try is under way.
            TurnUntil(() => !_socket.IsTrying);
        }
    }

    public void SayPeaks()
    {
        for (var input = 1; input <= 4; input++)
            Desk.Say(new OscMessage($"/t/{input}/top", OscArgument.Of(-20f - (Sink.Readings.Count % 5))));
    }

    public void Dispose()
    {
        _socket.Dispose();
        Desk.Dispose();
    }
}
