using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.TestKit.Desks;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>A desk with a second engine: who speaks for it, whose values count, and where what is sent goes.</summary>
public sealed class EngineTests
{
    [Fact]
    public void A_backup_engine_takes_over_only_when_the_first_is_silent_and_everything_is_asked_again()
    {
        using var second = new ForeignDesk("127.0.0.3");
        using var bench = new SessionBench(desk => LinkProfiles.Of(
            $"desk = \"{desk.EndPoint}\"\nlisten = \"0.0.0.0:0\"\nbackup = \"{second.EndPoint}\"", LinkProfiles.Peaks, LinkProfiles.Trim));
        second.Service = new IPEndPoint(IPAddress.Loopback, bench.ServicePort).Serialize();
        bench.Desk.Service = second.Service;
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        bench.Play(1);
        second.Say(new OscMessage("/t/1/top", OscArgument.Of(-1f)));
        bench.Play(0.2);
        Assert.DoesNotContain(bench.Sink.Readings, reading => reading.PeakDbfs is -1);
        Assert.Equal(20, bench.Session.Settings(1).Trim!.Value.Value);

        bench.Pass(1, () => second.Say(new OscMessage("/t/1/top", OscArgument.Of(-2f - (bench.Sink.Readings.Count % 5)))));
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.Takeover));
        Assert.Null(bench.Session.Settings(1).Trim);
        Assert.Equal(LinkState.Live, bench.Session.Link);
        second.Attend();
        Assert.Equal(4, second.Heard.Select(message => message.Address).Distinct().Count());
    }

    [Fact]
    public void What_the_engine_that_stands_by_tells_does_not_count()
    {
        using var second = new ForeignDesk("127.0.0.3");
        using var bench = TwoEngines(second);
        bench.Play(1);
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        second.Say(new OscMessage("/t/1/gain", OscArgument.Of(50f)));
        bench.Play(0.2);
        Assert.Equal(20, bench.Session.Settings(1).Trim!.Value.Value);
        // It is let in: that it stands by is no fault of a source.
        Assert.Equal(0, bench.Session.Counters.Dropped);
    }

    [Fact]
    public void The_first_engine_takes_over_again_at_its_own_port()
    {
        using var second = new ForeignDesk("127.0.0.3");
        using var bench = TwoEngines(second);
        bench.Play(1);
        bench.Pass(1, () => Peak(second, bench));
        bench.Desk.Heard.Clear();
        bench.Play(1.5);
        Assert.Equal(2, bench.Sink.Count(DeskNoteKind.Takeover));
        Assert.Equal(4, bench.Desk.Heard.Select(message => message.Address).Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public void While_both_are_silent_each_is_knocked_at_and_the_one_that_wakes_is_written_to()
    {
        const string Hello = """
            [[subscription]]
            address = "/t/hello"
            renew_s = 2.0
            """;
        using var second = new ForeignDesk("127.0.0.3");
        using var bench = TwoEngines(second, Hello);
        bench.Pass(12);
        second.Attend();
        Assert.InRange(second.HeardAt("/t/hello").Count, 2, 6);
        Assert.InRange(bench.Desk.HeardAt("/t/hello").Count, 6, 12);

        bench.Pass(1, () => Peak(second, bench));
        second.Attend();
        second.Heard.Clear();
        bench.Desk.Heard.Clear();
        bench.Pass(7, () => Peak(second, bench));
        second.Attend();
        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.Equal(3, second.HeardAt("/t/hello").Count);
        Assert.Empty(bench.Desk.Heard);
    }

    [Fact]
    public void Where_meters_never_came_from_the_place_that_is_written_to_a_new_source_of_meters_moves_no_command()
    {
        using var first = new ForeignDesk("127.0.0.3");
        using var second = new ForeignDesk("127.0.0.4");
        using var bench = new SessionBench(desk => LinkProfiles.Of(
            $"desk = \"{desk.EndPoint}\"\nlisten = \"0.0.0.0:0\"\naccept_from = [\"127.0.0.1\", \"127.0.0.3\", \"127.0.0.4\"]", LinkProfiles.Peaks, LinkProfiles.Trim));
        Greet(bench, first, second);
        bench.Pass(1, () => Peak(first, bench));
        bench.Desk.Heard.Clear();
        bench.Pass(7, () => Peak(second, bench));
        second.Attend();
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.Takeover));
        Assert.Empty(second.Heard);
        Assert.Equal(4, bench.Desk.Heard.Select(message => message.Address).Distinct(StringComparer.Ordinal).Count());
    }

    private static SessionBench TwoEngines(ForeignDesk second, params string[] more)
    {
        var bench = new SessionBench(desk => LinkProfiles.Of(
            $"desk = \"{desk.EndPoint}\"\nlisten = \"0.0.0.0:0\"\nbackup = \"{second.EndPoint}\"", [LinkProfiles.Peaks, LinkProfiles.Trim, .. more]));
        Greet(bench, bench.Desk, second);
        return bench;
    }

    private static void Greet(SessionBench bench, params ForeignDesk[] engines)
    {
        foreach (var engine in engines)
            engine.Service = new IPEndPoint(IPAddress.Loopback, bench.ServicePort).Serialize();
    }

    private static void Peak(ForeignDesk engine, SessionBench bench) => engine.Say(new OscMessage("/t/1/top", OscArgument.Of(-2f - (bench.Sink.Readings.Count % 5))));
}
