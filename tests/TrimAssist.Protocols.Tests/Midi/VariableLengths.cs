using CsCheck;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Protocols.Tests.Midi;

/// <summary>The table of Standard MIDI Files 1.0 (1988), also RFC 6295 figure 4 (M17, M18, R3).</summary>
public class VariableLengths
{
    [Theory]
    [InlineData(0x00, "00")]
    [InlineData(0x40, "40")]
    [InlineData(0x7F, "7F")]
    [InlineData(0x80, "81 00")]
    [InlineData(0x2000, "C0 00")]
    [InlineData(0x2345, "C6 45")]
    [InlineData(0x3FFF, "FF 7F")]
    [InlineData(0x4000, "81 80 00")]
    [InlineData(0x100000, "C0 80 00")]
    [InlineData(0x123456, "C8 E8 56")]
    [InlineData(0x1FFFFF, "FF FF 7F")]
    [InlineData(0x200000, "81 80 80 00")]
    [InlineData(0x8000000, "C0 80 80 00")]
    [InlineData(0x89ABCDE, "C4 EA F9 5E")]
    [InlineData(0xFFFFFFF, "FF FF FF 7F")]
    public void Rows_of_the_table_hold_both_ways(uint value, string hex)
    {
        var bytes = Hex.Bytes(hex);
        Assert.True(VariableLength.TryRead([.. bytes, 0xFF], out var read, out var length));
        Assert.Equal((value, bytes.Length), (read, length));

        var buffer = new byte[4];
        Assert.True(VariableLength.TryWrite(value, buffer, out length));
        Assert.Equal(hex, Hex.Print(buffer.AsSpan(0, length)));
        Assert.False(VariableLength.TryWrite(value, buffer.AsSpan(0, bytes.Length - 1), out _));
        Assert.False(VariableLength.TryRead(bytes.AsSpan(0, bytes.Length - 1), out _, out _));
    }

    [Theory]
    [InlineData("FF FF FF FF")]
    [InlineData("80 80 80 80 00")]
    public void A_fifth_byte_is_refused(string hex) => Assert.False(VariableLength.TryRead(Hex.Bytes(hex), out _, out _));

    [Fact]
    public void A_quantity_beyond_28_bits_is_not_written() => Assert.False(VariableLength.TryWrite(0x10000000, new byte[8], out _));

    [Fact]
    public void Any_quantity_survives()
        => Gen.UInt[0, VariableLength.MaxValue].Sample(value =>
        {
            var buffer = new byte[4];
            return VariableLength.TryWrite(value, buffer, out var written) && VariableLength.TryRead(buffer, out var read, out var length) && read == value && written == length;
        });
}
