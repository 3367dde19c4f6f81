using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

public class ReadingArguments
{
    private static readonly byte[] Mixed = new OscMessage(
        "/a",
        OscArgument.Of("name"),
        OscArgument.ArrayStart,
        OscArgument.Of(-3),
        OscArgument.OfBlob([1, 2, 3, 4, 5]),
        OscArgument.ArrayEnd,
        OscArgument.Of(0.5f),
        OscArgument.Of(true),
        OscArgument.Of(long.MaxValue),
        OscArgument.Of(-2.25),
        OscArgument.Of(false),
        OscArgument.Nil).Encode();

    [Theory]
    [InlineData(0, null)]
    [InlineData(1, -3.0)]
    [InlineData(2, null)]
    [InlineData(3, 0.5)]
    [InlineData(4, 1.0)]
    [InlineData(5, 9223372036854775807.0)]
    [InlineData(6, -2.25)]
    [InlineData(7, 0.0)]
    [InlineData(8, null)]
    [InlineData(9, null)]
    [InlineData(-1, null)]
    [InlineData(int.MaxValue, null)]
    public void A_number_is_read_by_its_index_without_counting_brackets(int index, double? expected)
    {
        Assert.True(OscMessageReader.TryOpen(Mixed, out var message, out _));
        Assert.Equal(expected, message.TryReadNumberAt(index, out var number) ? number : null);
    }

    [Fact]
    public void A_read_of_another_type_answers_false_and_does_not_move()
    {
        Assert.True(OscMessageReader.TryOpen(Mixed, out var message, out _));
        Assert.False(message.TryReadInt32(out _));
        Assert.False(message.TryReadNumber(out _));
        Assert.False(message.TryReadBlob(out _));
        Assert.True(message.TryReadString(out var name));
        Assert.Equal("name"u8, name);
        Assert.False(message.TryReadInt32(out _));
        Assert.True(message.TryReadArrayStart());
        Assert.True(message.TryReadInt32(out var three));
        Assert.Equal(-3, three);
    }

    [Fact]
    public void Rewinding_reads_the_first_argument_again()
    {
        Assert.True(OscMessageReader.TryOpen(Mixed, out var message, out _));
        Assert.True(message.TrySeek(6));
        message.Rewind();
        Assert.True(message.TryReadString(out _));
    }

    [Theory]
    [InlineData(false, "3F 80 00 00 C0 00 00 00 FF", new[] { 1f, -2f })]
    [InlineData(true, "00 00 80 3F 00 00 00 C0 FF", new[] { 1f, -2f })]
    public void Floats_packed_in_a_blob_are_read_in_either_byte_order(bool littleEndian, string hex, float[] expected)
        => Placements.ForEach(Hex.Bytes(hex), blob =>
        {
            var numbers = new float[3];
            Assert.Equal(2, OscBlobNumbers.ReadFloats(blob, numbers, littleEndian));
            Assert.Equal([.. expected, 0f], numbers);
            Assert.Equal(1, OscBlobNumbers.ReadFloats(blob, numbers.AsSpan(0, 1), littleEndian));
        });

    [Theory]
    [InlineData(false, "FF FE 01 00 7F", new short[] { -2, 256 })]
    [InlineData(true, "FE FF 00 01 7F", new short[] { -2, 256 })]
    public void Integers_packed_in_a_blob_are_read_in_either_byte_order(bool littleEndian, string hex, short[] expected)
        => Placements.ForEach(Hex.Bytes(hex), blob =>
        {
            var shorts = new short[2];
            Assert.Equal(2, OscBlobNumbers.ReadInt16s(blob, shorts, littleEndian));
            Assert.Equal(expected, shorts);

            var integers = new int[2];
            Assert.Equal(1, OscBlobNumbers.ReadInt32s(blob, integers, littleEndian));
            Assert.Equal(littleEndian ? 0x0100FFFE : unchecked((int)0xFFFE0100), integers[0]);
        });

    [Fact]
    public void Reading_allocates_nothing()
    {
        var bytes = Packets.Bundle(1, Mixed, Packets.Bundle(2, Mixed, new OscMessage("/b/*").Encode()));
        ReadAll(bytes);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var numbers = ReadAll(bytes);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.Equal(12, numbers);
        Assert.Equal(0, allocated);
    }

    private static int ReadAll(ReadOnlySpan<byte> bytes)
    {
        var numbers = 0;
        Span<float> levels = stackalloc float[4];
        var packet = new OscPacketReader(bytes);
        while (packet.TryReadMessage(out var message))
        {
            _ = OscPattern.Matches("/b/[a-c]/{d,e}*//f"u8, message.Address);
            while (message.NextTag != OscTypeTag.None)
            {
                if (message.TryReadNumber(out _))
                    numbers++;
                else if (message.TryReadBlob(out var blob))
                    _ = OscBlobNumbers.ReadFloats(blob, levels);
                else
                    _ = message.TrySkip();
            }
        }

        return numbers;
    }
}
