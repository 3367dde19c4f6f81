using Microsoft.Extensions.Time.Testing;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>A desk that speaks MIDI under the same session as any other.</summary>
public sealed class MidiSessionTests
{
    private const string Pair = """
        [controls.trim]
        cc14 = { channel = 1, controller = "{input+15}" }
        range_db = [0.0, 60.0]
        step_db = 1.0
        """;

    private const string Parameter = """
        [controls.trim]
        nrpn = { channel = 2, parameter = "{input+299}" }
        range = [0, 600]
        range_db = [0.0, 60.0]
        step_db = 1.0
        [controls.mute]
        note = { channel = 3, note = "{input+59}" }
        on = 127
        off = 0
        covers = ["main"]
        """;

    private const string Exclusive = """
        [controls.trim]
        sysex = "F0 7D 01 {input-1} {value:2} {checksum} F7"
        checksum = { rule = "xor", from = 2 }
        range = [0, 600]
        range_db = [0.0, 60.0]
        step_db = 1.0
        """;

    [Fact]
    public void Meters_come_in_whatever_way_the_bytes_are_cut()
    {
        using var bench = new MidiBench(Pair);
        bench.Say("A0 24");
        bench.Say("7F 25 F8 00 26");
        bench.Say("3F");
        Assert.Equal([(1, 0f), (2, -63.5f), (3, -32f)], bench.Sink.Readings.Select(one => (one.Input, one.PeakDbfs)));
        bench.Play(0.5);
        Assert.Equal(LinkState.Live, bench.Session.Link);
    }

    [Fact]
    public void However_often_a_cable_is_pulled_the_questions_leave_at_a_pace_that_a_five_pin_wire_can_bear()
    {
        using var bench = new MidiBench(Exclusive);
        var asked = 0;
        for (var turn = 0; turn < 200; turn++)
        {
            bench.Cable.Pull();
            bench.Cable.PlugIn();
            bench.Time.Advance(TimeSpan.FromMilliseconds(10));
            bench.Turn();
            asked += bench.Heard.Count;
        }

        // Two seconds; without a pace of its own there would be four questions at each turn.
        Assert.InRange(asked, 150, (2 * 100) + 10);
    }

    [Fact]
    public void An_upper_half_waits_for_its_lower_half_and_then_counts_alone()
    {
        using var bench = new MidiBench(Pair);
        bench.Say("B0 10 40");
        Assert.Null(bench.Session.Settings(1).Trim);
        bench.Say("B0 30 00");
        Assert.Equal(30, bench.Session.Settings(1).Trim!.Value.Value, 0.01);

        bench.Say("B0 10 20");
        bench.Time.Advance(TimeSpan.FromMilliseconds(40));
        bench.Turn();
        Assert.Equal(15, bench.Session.Settings(1).Trim!.Value.Value, 0.01);
        Assert.Equal(2, bench.Sink.Settings.Count);
    }

    [Fact]
    public void Half_a_value_of_which_the_other_half_never_came_is_unknown()
    {
        using var bench = new MidiBench(Pair);
        bench.Say("B0 30 7F");
        bench.Time.Advance(TimeSpan.FromSeconds(1));
        bench.Turn();
        Assert.Null(bench.Session.Settings(1).Trim);
    }

    [Fact]
    public void A_parameter_selected_before_something_was_lost_is_not_set_after_it()
    {
        using var bench = new MidiBench(Parameter);
        bench.Say("B1 63 02 B1 62 2C B1 06 02 B1 26 2C");
        Assert.Equal(30, bench.Session.Settings(1).Trim!.Value.Value, 0.01);
        bench.Lose(1);
        bench.Say("B1 06 04 B1 26 00");
        bench.Time.Advance(TimeSpan.FromSeconds(1));
        bench.Turn();
        Assert.Equal(30, bench.Session.Settings(1).Trim!.Value.Value, 0.01);
    }

    [Theory]
    [InlineData("92 3C 7F", true)]
    [InlineData("92 3C 00", false)]
    [InlineData("82 3C 40", false)]
    public void A_note_is_a_switch(string bytes, bool muted)
    {
        using var bench = new MidiBench(Parameter);
        bench.Say(bytes);
        Assert.Equal(muted, bench.Session.Settings(1).Muted);
    }

    [Fact]
    public void A_position_that_the_profile_does_not_name_leaves_the_switch_unknown()
    {
        using var bench = new MidiBench(Parameter);
        bench.Say("92 3C 40");
        Assert.Null(bench.Session.Settings(1).Muted);
        Assert.Equal(1, bench.Session.Counters.Malformed);
    }

    [Fact]
    public void A_wrong_checksum_is_no_value()
    {
        using var bench = new MidiBench(Exclusive);
        bench.Say("F0 7D 01 00 02 2C 2E F7");
        Assert.Null(bench.Session.Settings(1).Trim);
        bench.Say("F0 7D 01 00 02 2C 2F F7");
        Assert.Equal(30, bench.Session.Settings(1).Trim!.Value.Value, 0.01);
    }

    [Fact]
    public void A_bare_message_asks_for_what_a_whole_one_sets()
    {
        using var bench = new MidiBench(Exclusive);
        Assert.Equal(["F0 7D 01 00 01 F7", "F0 7D 01 01 00 F7", "F0 7D 01 02 03 F7", "F0 7D 01 03 02 F7"], bench.Heard.Distinct());
    }

    [Theory]
    [InlineData(Pair, "B0 10 40 B0 30 00", "B0 10 33 B0 30 19", "B0 10 33 B0 30 19")]
    [InlineData(Parameter, "B1 63 02 B1 62 2C B1 06 02 B1 26 2C", "B1 63 02 B1 62 2C B1 06 01 B1 26 70", "B1 63 02 B1 62 2C B1 06 01 B1 26 70")]
    [InlineData(Exclusive, "F0 7D 01 00 02 2C 2F F7", "F0 7D 01 00 01 70 70 F7", "F0 7D 01 00 01 70 70 F7")]
    public async Task A_change_is_sent_once_and_read_back(string control, string before, string sent, string echo)
    {
        using var bench = new MidiBench(control);
        bench.Say(before);
        bench.Play(0.5);
        _ = bench.Heard;
        var writing = bench.Write(ProposalKind.Trim, SettingValue.Gain(24), 1);
        Assert.Equal([sent], bench.Heard.Where(one => one is not ['F', '0', ..] || one.Length > "F0 7D 01 00 01 F7".Length));
        bench.Say(echo);
        bench.Turn();
        Assert.Equal(WriteResult.Applied, (await writing).Result);
    }

    [Fact]
    public void A_pulled_cable_is_a_reason_and_a_plugged_one_asks_for_everything_again()
    {
        using var bench = new MidiBench(Exclusive);
        bench.Play(1);
        bench.Cable.Pull();
        bench.Time.Advance(TimeSpan.FromSeconds(6));
        bench.Turn();
        Assert.Equal((LinkState.Lost, "The cable is pulled."), (bench.Session.Link, bench.Session.LinkReason));
        bench.Cable.PlugIn();
        bench.Turn();
        Assert.Contains("F0 7D 01 03 02 F7", bench.Heard);
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.Restart));
    }

    [Fact]
    public void What_the_profile_does_not_name_is_left_alone_and_counted()
    {
        using var bench = new MidiBench(Pair);
        bench.Say("F0 7F 7F 06 02 F7 C0 05 E0 00 40 F8 FE B0 07 64");
        Assert.Equal((0L, 4L), (bench.Session.Counters.Malformed, bench.Session.Counters.Unmatched));
    }

    [Fact]
    public void A_message_allocates_nothing_on_its_way()
    {
        var profile = MidiBench.Read(MidiBench.Meters, Pair, """
            [[overload]]
            sysex = "F0 7D 30 {input} {value} F7"
            """);
        var time = new FakeTimeProvider();
        using var port = new Played("A0 24 40 25 41 26 42 27 43 F8 F0 7D 30 02 00 F7 B5 10 40 30 01 C0 01 B0 63 02 62 2C 06 01");
        var here = new System.Net.IPEndPoint(System.Net.IPAddress.Loopback, 0);
        using var socket = new MidiDeskSocket(port, new SourceFilter([here.Address]), here);
        var ears = new Counting();
        var session = new DeskSession(profile, ears, socket, socket.Sources, time);
        session.Start();
        long allocated = 0;
        for (var frame = 0; frame < 800; frame++)
        {
            time.Advance(SessionBench.Frame);
            var before = GC.GetAllocatedBytesForCurrentThread();
            socket.Drain(session, 512);
            session.Tick();
            allocated += frame < 400 ? 0 : GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(4 * 800, ears.Readings);
        Assert.Equal(0, allocated);
    }

    /// <summary>A port on which the same bytes come again and again.</summary>
    private sealed class Played(string bytes) : IMidiPort
    {
        private readonly byte[] _bytes = Convert.FromHexString(bytes.Replace(" ", "", StringComparison.Ordinal));

        public string Name => "played";

        public Saying? Trouble => null;

        public void Wait(TimeSpan wait)
        {
        }

        public void Drain(IMidiReceiver receiver, int most) => receiver.Receive(_bytes, 0);

        public bool TrySend(ReadOnlySpan<byte> messages, out string? fault)
        {
            fault = null;
            return true;
        }

        public void Dispose()
        {
        }
    }

    private sealed class Counting : IDeskSink
    {
        public int Readings { get; private set; }

        public void OnReading(in TrimAssist.Core.Meters.MeterReading reading) => Readings++;

        public void OnSettings(InputSettings before, InputSettings now)
        {
        }

        public void OnLink(LinkState state, Saying reason)
        {
        }

        public void OnDeskNote(DeskNote note)
        {
        }
    }
}
