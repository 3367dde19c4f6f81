using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

public class Writing
{
    [Fact]
    public void A_packet_fits_its_exact_size_and_no_less()
    {
        var message = new OscMessage("/foo", OscArgument.Of(1000), OscArgument.Of("hello"), OscArgument.OfBlob([1]), OscArgument.Of(2.0), OscArgument.Of(true));
        var size = message.Encode().Length;
        for (var length = 0; length <= size; length++)
        {
            var writer = new OscWriter(new byte[length]);
            message.WriteTo(ref writer);
            Assert.Equal(length == size, writer.TryFinish(out var written));
            Assert.Equal(length == size ? size : 0, written);
            Assert.Equal(length == size ? OscWriteError.None : OscWriteError.DoesNotFit, writer.Error);
        }
    }

    [Fact]
    public void Nothing_is_written_outside_the_buffer_given()
    {
        var guarded = new byte[64];
        guarded.AsSpan().Fill(0xFF);
        var writer = new OscWriter(guarded.AsSpan(8, 16));
        writer.BeginMessage("/a"u8, "b"u8);
        writer.WriteBlob(new byte[5]);
        writer.EndMessage();

        Assert.False(writer.TryFinish(out _));
        Assert.All(guarded[..8], value => Assert.Equal(0xFF, value));
        Assert.All(guarded[24..], value => Assert.Equal(0xFF, value));
    }

    [Theory]
    [InlineData("a", "", OscWriteError.BadAddress)]
    [InlineData("", "", OscWriteError.BadAddress)]
    [InlineData("/a\0b", "", OscWriteError.BadAddress)]
    [InlineData("/a", "x", OscWriteError.BadTypeTags)]
    [InlineData("/a", "[", OscWriteError.BadTypeTags)]
    [InlineData("/a", "][", OscWriteError.BadTypeTags)]
    [InlineData("/a", "i", OscWriteError.ArgumentMismatch)]
    public void A_message_that_cannot_be_is_refused_by_name(string address, string tags, OscWriteError expected)
    {
        var writer = new OscWriter(new byte[64]);
        writer.BeginMessage(Encoding.UTF8.GetBytes(address), Encoding.UTF8.GetBytes(tags));
        writer.EndMessage();
        Assert.False(writer.TryFinish(out _));
        Assert.Equal(expected, writer.Error);
    }

    [Fact]
    public void An_argument_other_than_announced_is_refused()
    {
        var writer = new OscWriter(new byte[64]);
        writer.BeginMessage("/a"u8, "i"u8);
        writer.WriteFloat(1);
        Assert.Equal(OscWriteError.ArgumentMismatch, writer.Error);

        writer = new OscWriter(new byte[64]);
        writer.BeginMessage("/a"u8, "TF"u8);
        writer.WriteInt32(1);
        Assert.Equal(OscWriteError.ArgumentMismatch, writer.Error);
    }

    [Fact]
    public void A_zero_inside_a_string_is_refused()
    {
        Assert.Throws<InvalidOperationException>(new OscMessage("/a", OscArgument.Of("a\0b")).Encode);

        var writer = new OscWriter(new byte[64]);
        writer.BeginMessage("/a"u8, "s"u8);
        writer.WriteString("a\0b"u8);
        Assert.Equal(OscWriteError.ZeroInString, writer.Error);
    }

    [Fact]
    public void Calls_out_of_turn_are_refused()
    {
        var writer = new OscWriter(new byte[64]);
        Assert.False(writer.TryFinish(out _));

        writer = new OscWriter(new byte[64]);
        writer.EndBundle();
        Assert.Equal(OscWriteError.OutOfTurn, writer.Error);

        writer = new OscWriter(new byte[64]);
        writer.EndMessage();
        Assert.Equal(OscWriteError.OutOfTurn, writer.Error);

        writer = new OscWriter(new byte[64]);
        writer.WriteInt32(1);
        Assert.Equal(OscWriteError.OutOfTurn, writer.Error);

        writer = new OscWriter(new byte[64]);
        writer.BeginMessage("/a"u8, default);
        writer.EndMessage();
        writer.BeginMessage("/b"u8, default);
        Assert.Equal(OscWriteError.OutOfTurn, writer.Error);

        writer = new OscWriter(new byte[64]);
        writer.BeginBundle(OscTimeTag.Immediate);
        Assert.False(writer.TryFinish(out _));
        Assert.Equal(OscWriteError.OutOfTurn, writer.Error);
    }

    [Fact]
    public void Bundles_deeper_than_a_reader_takes_are_not_written()
    {
        var writer = new OscWriter(new byte[1_024]);
        for (var i = 0; i <= OscPacketReader.MaxBundleDepth; i++)
            writer.BeginBundle(OscTimeTag.Immediate);
        Assert.Equal(OscWriteError.BundleTooDeep, writer.Error);
    }

    [Fact]
    public void Writing_allocates_nothing()
    {
        var buffer = new byte[64];
        Write(buffer);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var length = Write(buffer);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.Equal(40, length);
        Assert.Equal(0, allocated);
    }

    private static int Write(Span<byte> buffer)
    {
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        writer.BeginMessage("/a"u8, "sf"u8);
        writer.WriteString("four".AsSpan());
        writer.WriteFloat(1);
        writer.EndMessage();
        writer.EndBundle();
        return writer.TryFinish(out var length) ? length : -1;
    }
}
