using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Levels and overload flags in every form in which a desk may send them.</summary>
public sealed class MeterFormTests
{
    private const string FlagEach = """
        [[overload]]
        address = "/t/{input}/over"
        """;

    private const string FlagsTogether = """
        [[overload]]
        address = "/t/overs"
        packing = "arguments"
        """;

    private const string FlagBesideThePeak = """
        [[overload]]
        address = "/t/{input}/top"
        argument = 1
        """;

    private const string RmsBesideThePeak = """
        [[meters]]
        address = "/t/{input}/top"
        argument = 1
        quantity = "rms"
        unit = "dbfs"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        """;

    [Fact]
    public void A_peak_and_an_rms_side_by_side_in_one_message_are_one_reading()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, RmsBesideThePeak);
        bench.Say("/t/2/top", OscArgument.Of(-12f), OscArgument.Of(-24f));
        Assert.Equal((2, -12f, -24f), Assert.Single(bench.Sink.Readings) is var reading ? (reading.Input, reading.PeakDbfs, reading.RmsDbfs) : default);
    }

    [Fact]
    public void A_peak_and_an_rms_in_one_blob_are_one_reading_each()
    {
        const string Form = """
            [[meters]]
            address = "/t/all"
            quantity = "{0}"
            unit = "dbfs"
            packing = "blob"
            element = "int16"
            endian = "little"
            count_db = 0.01
            skip_bytes = {1}
            count = 4
            frame_ms = 50
            """;
        using var bench = new SessionBench(string.Format(null, Form, "peak", 4), string.Format(null, Form, "rms", 12));
        var bytes = new byte[20];
        for (var i = 0; i < 8; i++)
            System.Buffers.Binary.BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(4 + (2 * i)), (short)(-1000 - (100 * i)));
        bench.Say("/t/all", OscArgument.OfBlob(bytes));
        Assert.Equal(4, bench.Sink.Readings.Count);
        Assert.Equal((4, -13f, -17f), bench.Sink.Readings[3] is var last ? (last.Input, last.PeakDbfs, last.RmsDbfs) : default);
    }

    [Fact]
    public void Flags_are_heard_one_by_one()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, FlagEach);
        bench.Say("/t/3/over", OscArgument.Of(true));
        bench.Say("/t/3/over", OscArgument.Of(false));
        Assert.Equal([3], bench.Sink.Overloads);
    }

    [Fact]
    public void Flags_are_heard_all_in_one_message()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, FlagsTogether);
        bench.Say("/t/overs", OscArgument.Of(0), OscArgument.Of(1), OscArgument.Of(0), OscArgument.Of(1));
        Assert.Equal([2, 4], bench.Sink.Overloads);
    }

    [Fact]
    public void A_flag_is_heard_beside_the_level_in_the_same_message()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, FlagBesideThePeak);
        bench.Say("/t/2/top", OscArgument.Of(-1f), OscArgument.Of(1));
        Assert.Equal([2], bench.Sink.Overloads);
        Assert.Equal(-1, Assert.Single(bench.Sink.Readings).PeakDbfs);
    }

    [Fact]
    public void Flags_that_come_only_when_they_change_are_no_lost_frames_and_no_sign_of_life()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, FlagEach);
        bench.Say("/t/1/over", OscArgument.Of(0));
        bench.Play(3);
        bench.Say("/t/1/over", OscArgument.Of(1));
        bench.Play(0.2);
        Assert.Equal(0, bench.Session.Counters.FramesLost);
        bench.Pass(0.7, () => bench.Desk.Say(new OscMessage("/t/1/over", OscArgument.Of(1))));
        Assert.Equal(LinkState.Stale, bench.Session.Link);
    }

    [Fact]
    public void The_desks_own_flag_is_an_overload_alarm_while_the_input_is_watched()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, FlagEach);
        var assistant = new DeskAssistant(bench.Profile.Description, AssistOptions.Default, bench.Session.Settings, static _ => null, Guid.NewGuid, new NoEvents());
        assistant.OnOverload(2, 1.0, default);
        Assert.Empty(assistant.Alarms.All);
        assistant.Watch(true, default);
        assistant.OnReading(new MeterReading(2, 2, -6, float.NaN), default);
        assistant.OnReading(new MeterReading(2, 2.6, -6, float.NaN), default);
        assistant.OnOverload(2, 2.7, default);
        assistant.OnOverload(2, 2.8, default);
        Assert.Equal((AlarmKind.Overload, 2), Assert.Single(assistant.Alarms.All) is var alarm ? (alarm.Kind, alarm.Input) : default);
    }

    private sealed class NoEvents : IAssistantEvents
    {
        public void ProposalChanged(Proposal proposal)
        {
        }

        public void AlarmChanged(Alarm alarm)
        {
        }

        public void CheckChanged(SoundCheck check)
        {
        }

        public void PatchChanged(Core.Patch.SafePatch patch)
        {
        }
    }
}
