using System.Buffers.Binary;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class MeteringTests
{
    private const string OneSource = ProfileTexts.Least;

    [Fact]
    public void A_level_becomes_a_reading_at_once()
    {
        var bench = new Bench(OneSource).Live();

        var reading = Assert.Single(bench.Readings);
        Assert.Equal((1, -20f, true), (reading.Input, reading.PeakDbfs, float.IsNaN(reading.RmsDbfs)));
    }

    [Fact]
    public void Peak_and_rms_of_one_frame_become_one_reading_whichever_comes_first()
    {
        var bench = Start(ProfileTexts.Full);
        bench.Tell("/lv/3", OscArgument.Of(-10f));
        Assert.Empty(bench.Readings);
        bench.Tell("/lv/all", Blob(24, i => -30 - i));
        Assert.Equal((3, -10f, -33f), Peek(bench.Readings.Single(r => r.Input == 3)));

        bench.Advance(50);
        bench.Tell("/lv/all", Blob(24, i => -40 - i));
        bench.Tell("/lv/3", OscArgument.Of(-11f));
        Assert.Equal((3, -11f, -43f), Peek(bench.Readings.Last(r => r.Input == 3)));
    }

    [Fact]
    public void A_peak_whose_rms_is_lost_goes_out_with_the_next_frame()
    {
        var bench = Start(ProfileTexts.Full);
        bench.Tell("/lv/3", OscArgument.Of(-10f));
        bench.Advance(50);
        bench.Tell("/lv/3", OscArgument.Of(-12f));

        var reading = Assert.Single(bench.Readings);
        Assert.Equal((-10f, true), (reading.PeakDbfs, float.IsNaN(reading.RmsDbfs)));
    }

    [Fact]
    public void A_source_that_stays_silent_is_not_waited_for()
    {
        var bench = Start(ProfileTexts.Full);
        for (var frame = 0; frame < 6; frame++)
        {
            bench.Tell("/lv/3", OscArgument.Of(-10f - frame));
            bench.Advance(50);
            bench.Session.Tick();
        }

        bench.Readings.Clear();
        bench.Tell("/lv/3", OscArgument.Of(-1f));
        Assert.Equal(-1f, Assert.Single(bench.Readings).PeakDbfs);
    }

    [Fact]
    public void Rms_alone_still_counts_when_the_peaks_stay_away()
    {
        var bench = Start(ProfileTexts.Full);
        for (var frame = 0; frame < 4; frame++)
        {
            bench.Tell("/lv/all", Blob(24, i => -30 - i - frame));
            bench.Advance(50);
        }

        Assert.Equal(3, bench.Readings.Count(r => r.Input == 5 && float.IsNaN(r.PeakDbfs) && r.RmsDbfs < -30));
    }

    [Theory]
    [InlineData("float32", "big", 4)]
    [InlineData("float32", "little", 4)]
    [InlineData("int16", "big", 2)]
    [InlineData("int16", "little", 2)]
    [InlineData("int32", "big", 4)]
    [InlineData("int32", "little", 4)]
    public void A_blob_is_read_in_its_packing(string element, string endian, int size)
    {
        var whole = !string.Equals(element, "float32", StringComparison.Ordinal);
        var bench = Start($"""
            id = "blob"
            inputs = 8
            [connection]
            desk = "192.0.2.10:9000"
            [[meters]]
            address = "/m"
            quantity = "peak"
            unit = "dbfs"
            packing = "blob"
            argument = 1
            element = "{element}"
            endian = "{endian}"
            {(whole ? "count_db = 0.01" : string.Empty)}
            skip_bytes = 3
            first_input = 3
            count = 4
            frame_ms = 50
            """);
        var bytes = new byte[3 + (4 * size)];
        for (var i = 0; i < 4; i++)
            Put(bytes.AsSpan(3 + (i * size)), element, string.Equals(endian, "little", StringComparison.Ordinal), whole ? -1000 - (100 * i) : -10 - i);

        bench.Tell("/m", OscArgument.Of(7), OscArgument.OfBlob(bytes));

        Assert.Equal([(3, -10f), (4, -11f), (5, -12f), (6, -13f)], bench.Readings.Select(r => (r.Input, r.PeakDbfs)));
    }

    [Fact]
    public void A_list_of_arguments_is_read_in_order_whatever_their_types()
    {
        var bench = Start("""
            id = "list"
            inputs = 3
            [connection]
            desk = "192.0.2.10:9000"
            [[meters]]
            address = "/m"
            quantity = "peak"
            unit = "fraction"
            range_db = [-60.0, 0.0]
            packing = "arguments"
            argument = 1
            frame_ms = 50
            """);

        bench.Tell("/m", OscArgument.Of("head"), OscArgument.Of(0.5f), OscArgument.Of("no number"), OscArgument.Of(1), OscArgument.Of(0.1));

        Assert.Equal([(1, -30f), (3, 0f)], bench.Readings.Select(r => (r.Input, r.PeakDbfs)));
    }

    [Fact]
    public void Meters_by_socket_reach_every_input_that_the_socket_feeds()
    {
        var bench = Start(OneSource.Replace("/lv/{input}", "/lv/{socket:00}", StringComparison.Ordinal) + """
            [controls.source]
            address = "/in/{input}/from"
            """);
        bench.Tell("/lv/05", OscArgument.Of(-9f));
        Assert.Empty(bench.Readings);

        bench.Tell("/in/2/from", OscArgument.Of(5));
        bench.Tell("/in/4/from", OscArgument.Of("5"));
        bench.Tell("/lv/05", OscArgument.Of(-9f));
        Assert.Equal([2, 4], bench.Readings.Select(r => r.Input));
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(1e20f)]
    public void What_is_no_level_is_counted_and_never_becomes_a_reading(float value)
    {
        var bench = Start(OneSource);
        bench.Tell("/lv/1", OscArgument.Of(value));

        Assert.Empty(bench.Readings);
        Assert.Equal(1, bench.Session.Counters.Malformed);
        Assert.Equal(DeskNoteKind.Malformed, Assert.Single(bench.Notes).Kind);
    }

    [Fact]
    public void Inputs_that_do_not_exist_and_unknown_addresses_are_counted_not_kept()
    {
        var bench = Start(OneSource);
        bench.Tell("/lv/5", OscArgument.Of(-1f));
        bench.Tell("/something/else", OscArgument.Of(-1f));

        Assert.Empty(bench.Readings);
        Assert.Equal(2, bench.Session.Counters.Unmatched);
    }

    [Fact]
    public void Overload_flags_are_told_and_do_not_pass_for_meters()
    {
        var bench = Start(OneSource + """
            [[overload]]
            address = "/over/{input}"
            """);
        bench.Tell("/over/2", OscArgument.Of(true));
        bench.Tell("/over/3", OscArgument.Of(false));
        bench.Session.Tick();

        Assert.Equal([2], bench.Overloads);
        Assert.Empty(bench.Links);
    }

    [Fact]
    public void Meters_pass_without_allocation_as_single_messages_bundles_and_blobs()
    {
        var bench = new Bench(ProfileTexts.Full) { KeepReadings = false };
        bench.Session.Start();
        var from = Bench.Desk.Serialize();
        byte[][] packets = [new OscMessage("/lv/7", OscArgument.Of(-20f)).Encode(), Bundle(24), new OscMessage("/lv/all", Blob(24, i => -i)).Encode()];
        for (var warm = 0; warm < 200; warm++)
            Feed(bench, packets, from);

        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var frame = 0; frame < 1000; frame++)
            Feed(bench, packets, from);

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static void Feed(Bench bench, byte[][] packets, System.Net.SocketAddress from)
    {
        foreach (var packet in packets)
            bench.Session.Receive(packet, from);
    }

    private static Bench Start(string profile)
    {
        var bench = new Bench(profile);
        bench.Session.Start();
        return bench;
    }

    private static (int Input, float Peak, float Rms) Peek(Core.Meters.MeterReading reading) => (reading.Input, reading.PeakDbfs, reading.RmsDbfs);

    private static OscArgument Blob(int count, Func<int, float> level)
    {
        var bytes = new byte[count * 4];
        for (var i = 0; i < count; i++)
            BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(i * 4), level(i + 1));
        return OscArgument.OfBlob(bytes);
    }

    private static byte[] Bundle(int count)
    {
        var buffer = new byte[4096];
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        for (var input = 1; input <= count; input++)
            new OscMessage($"/lv/{input}", OscArgument.Of(-input * 1f)).WriteTo(ref writer);
        writer.EndBundle();
        Assert.True(writer.TryFinish(out var length));
        return buffer[..length];
    }

    private static void Put(Span<byte> at, string element, bool little, int value)
    {
        switch (element, little)
        {
            case ("float32", false): BinaryPrimitives.WriteSingleBigEndian(at, value); break;
            case ("float32", true): BinaryPrimitives.WriteSingleLittleEndian(at, value); break;
            case ("int16", false): BinaryPrimitives.WriteInt16BigEndian(at, (short)value); break;
            case ("int16", true): BinaryPrimitives.WriteInt16LittleEndian(at, (short)value); break;
            case (_, false): BinaryPrimitives.WriteInt32BigEndian(at, value); break;
            default: BinaryPrimitives.WriteInt32LittleEndian(at, value); break;
        }
    }
}
