using CsCheck;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>OSC 1.0, "OSC Time Tags" and "Temporal Semantics"; RFC 868 and RFC 5905 for the epoch.</summary>
public class TimeTags
{
    [Fact] // O9
    public void Immediately_is_63_zeros_and_a_one()
    {
        Assert.Equal("00 00 00 00 00 00 00 01", Hex.Print(new OscMessage("/a", OscArgument.Of(OscTimeTag.Immediate)).Encode().AsSpan(8)));
        Assert.Null(OscTimeTag.Immediate.ToDateTimeOffset());
    }

    [Theory] // O11; the last row is the first instant of era 1
    [InlineData("1970-01-01T00:00:00Z", 0x83AA7E80_00000000UL)]
    [InlineData("2000-01-01T00:00:00Z", 0xBC17C200_00000000UL)]
    [InlineData("2000-01-01T00:00:00.5Z", 0xBC17C200_80000000UL)]
    [InlineData("2036-02-07T06:28:15Z", 0xFFFFFFFF_00000000UL)]
    [InlineData("2036-02-07T06:28:16Z", 0x00000000_00000000UL)]
    public void Fixed_points_of_the_epoch_hold_both_ways(string instant, ulong tag)
    {
        var time = DateTimeOffset.Parse(instant);
        Assert.Equal(tag, OscTimeTag.From(time).Value);
        Assert.Equal(time, new OscTimeTag(tag).ToDateTimeOffset());
    }

    [Fact] // O11
    public void The_epochs_lie_25567_days_apart()
    {
        Assert.Equal(2_208_988_800UL, OscTimeTag.From(DateTimeOffset.UnixEpoch).Value >> 32);
        Assert.Equal(25_567, (int)(2_208_988_800 / TimeSpan.FromDays(1).TotalSeconds));
    }

    [Fact] // O10: the unit is 2^-32 s, 232.83 ps, so 430 of them are 100 ns and 200 are not
    public void A_tick_of_100_ns_is_about_430_units()
    {
        var one = OscTimeTag.From(DateTimeOffset.UnixEpoch.AddTicks(1)).Value - OscTimeTag.From(DateTimeOffset.UnixEpoch).Value;
        Assert.Equal(429UL, one);
        Assert.Equal(232.83e-12, 100e-9 / one, 0.3e-12);
    }

    [Fact]
    public void Every_tick_survives_the_way_to_a_tag_and_back()
        => Gen.Long[OscTimeTag.Earliest.Ticks, OscTimeTag.End.Ticks - 1]
            .Select(ticks => new DateTimeOffset(ticks, TimeSpan.Zero))
            .Sample(instant => OscTimeTag.From(instant).ToDateTimeOffset() == instant);

    [Fact]
    public void Tags_order_as_their_instants_also_across_the_end_of_the_era()
        => Gen.Select(Gen.Long[OscTimeTag.Earliest.Ticks, OscTimeTag.End.Ticks - 1], Gen.Long[OscTimeTag.Earliest.Ticks, OscTimeTag.End.Ticks - 1])
            .Sample((a, b) => OscTimeTag.From(new(a, TimeSpan.Zero)).CompareTo(OscTimeTag.From(new(b, TimeSpan.Zero))) == a.CompareTo(b));

    [Fact]
    public void An_instant_no_tag_can_name_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => OscTimeTag.From(OscTimeTag.Earliest.AddTicks(-1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => OscTimeTag.From(OscTimeTag.End));
    }

    [Theory] // O12
    [InlineData(-1, true)]
    [InlineData(0, true)]
    [InlineData(1, false)]
    public void A_tag_is_due_once_it_is_not_in_the_future(long ticksFromNow, bool due)
    {
        var now = new DateTimeOffset(2030, 5, 1, 20, 0, 0, TimeSpan.Zero);
        Assert.Equal(due, OscTimeTag.From(now.AddTicks(ticksFromNow)).IsDue(now));
        Assert.True(OscTimeTag.Immediate.IsDue(now));
    }

    [Fact] // O8: an enclosed bundle is never earlier than the one around it
    public void A_bundle_takes_effect_no_earlier_than_its_enclosing_one()
    {
        var message = new OscMessage("/a").Encode();
        const ulong Ten = 10UL << 32 | TopBit;
        const ulong Twenty = 20UL << 32 | TopBit;
        var bytes = Packets.Bundle(Ten, Packets.Bundle(Twenty, message), message, Packets.Bundle(1, message), Packets.Bundle(Ten - 1, message));

        Assert.Equal([Twenty, Ten, Ten, Ten], Packets.Read(bytes).Messages.Select(read => read.TimeTag.Value));
    }

    private const ulong TopBit = 1UL << 63;
}
