using CsCheck;
using TrimAssist.Desk.Profiles.Templates;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

/// <summary>System exclusive messages by template.</summary>
public sealed class ExclusiveTemplateTests
{
    [Theory]
    [InlineData("F0 7D {input} {value:2} F7", 3, 300, "F07D03022CF7")]
    [InlineData("F0 7D {input-1} {value:2:low} F7", 3, 300, "F07D022C02F7")]
    [InlineData("F0 7D {input+126:2} {value:3} F7", 3, 100_000, "F07D0101060D20F7")]
    public void Numbers_are_written_seven_bits_at_a_time(string text, int input, int value, string bytes)
    {
        var template = ExclusiveTemplate.Parse(text, Checksum.Usual, out _)!;
        Assert.Equal(bytes, Convert.ToHexString(template.Format(input, value)!));
        Assert.True(template.TryMatch(Convert.FromHexString(bytes), 1, out var read, out var values));
        Assert.Equal((input, value), (read, template.ValueAt(values, 0)));
    }

    [Theory] // by hand: 01 + 02 + 2C = 2F; 80 - 2F = 51; 01 ^ 02 ^ 2C = 2F; from 2 on, and from 1 on with 7D
    [InlineData(ChecksumRule.SumToZero, 2, "51")]
    [InlineData(ChecksumRule.Sum, 2, "2F")]
    [InlineData(ChecksumRule.ExclusiveOr, 2, "2F")]
    [InlineData(ChecksumRule.SumToZero, 1, "54")]
    [InlineData(ChecksumRule.Sum, 1, "2C")]
    [InlineData(ChecksumRule.ExclusiveOr, 1, "52")]
    public void A_checksum_follows_its_rule(ChecksumRule rule, int from, string check)
    {
        var template = ExclusiveTemplate.Parse("F0 7D {input} {value:2} {checksum} F7", new Checksum(rule, from), out _)!;
        Assert.Equal($"F07D01022C{check}F7", Convert.ToHexString(template.Format(1, 300)!));
        Assert.False(template.TryMatch(Convert.FromHexString($"F07D01022C{(check == "00" ? "01" : "00")}F7"), 1, out _, out _));
    }

    [Theory]
    [InlineData(128)]
    [InlineData(-1)]
    public void What_does_not_fit_is_not_written(int value) =>
        Assert.Null(ExclusiveTemplate.Parse("F0 7D {input} {value} F7", Checksum.Usual, out _)!.Format(1, value));

    [Fact]
    public void Many_values_stand_where_the_template_has_one()
    {
        var template = ExclusiveTemplate.Parse("F0 7D 30 {value:2} F7", Checksum.Usual, out _)!;
        Assert.True(template.TryMatch(Convert.FromHexString("F07D3000010101022CF7"), 3, out var input, out var values));
        Assert.Equal((0, 1, 129, 300), (input, template.ValueAt(values, 0), template.ValueAt(values, 1), template.ValueAt(values, 2)));
        Assert.False(template.TryMatch(Convert.FromHexString("F07D300001F7"), 3, out _, out _));
    }

    [Fact]
    public void Whatever_is_written_is_read_again_and_nothing_else_is()
    {
        var template = ExclusiveTemplate.Parse("F0 7D 01 {input:2} {value:2} {checksum} F7", Checksum.Usual, out _)!;
        Gen.Select(Gen.Int[1, 1024], Gen.Int[0, 16383], Gen.Int[0, 8], Gen.Byte[1, 127]).Sample((input, value, at, change) =>
        {
            var bytes = template.Format(input, value)!;
            if (!template.TryMatch(bytes, 1, out var read, out var values) || read != input || template.ValueAt(values, 0) != value)
                return false;
            // A single changed byte never passes the checksum.
            bytes[at] = (byte)((bytes[at] + change) & 0x7F);
            return !template.TryMatch(bytes, 1, out _, out _);
        });
    }

    [Fact]
    public void Any_bytes_are_matched_or_not_and_never_throw()
    {
        var template = ExclusiveTemplate.Parse("F0 7D {input} {value:2} {checksum} F7", Checksum.Usual, out _)!;
        Gen.Byte.Array[0, 12].Sample(bytes => template.TryMatch(bytes, 1, out _, out _) == (bytes.Length == 7 && template.TryMatch(bytes, 1, out _, out _)));
    }
}
