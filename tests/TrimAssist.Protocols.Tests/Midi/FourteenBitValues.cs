using CsCheck;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Protocols.Tests.Midi;

/// <summary>MIDI 1.0, Table III and its rules for 14-bit controllers and parameters (M4 to M14); the bytes of M12 stand worked out on a public page.</summary>
public class FourteenBitValues
{
    [Fact] // M4 and M5: the upper half answers at once with a lower half of 0
    public void A_pair_of_controllers_makes_a_value()
        => Assert.Equal(
            [new(MidiValueKind.Controller, 1, 7, 8192), new(MidiValueKind.Controller, 1, 7, 8193)],
            MidiStreams.Values(new(), "B0 07 40 B0 27 01"));

    [Fact] // M5
    public void A_new_upper_half_takes_the_lower_half_as_0_again()
        => Assert.Equal([128, 129, 256], MidiStreams.Values(new(), "B0 07 01 27 01 07 02").Select(value => value.Value));

    [Fact]
    public void After_a_loss_a_lower_half_says_nothing_until_its_upper_one_has_come_again()
    {
        var assembler = new MidiValueAssembler();
        MidiStreams.Values(assembler, "B0 07 40 B0 27 01");
        assembler.Forget();
        Assert.Empty(MidiStreams.Values(assembler, "B0 27 05"));
        Assert.Equal([8320, 8325], MidiStreams.Values(assembler, "B0 07 41 B0 27 05").Select(value => value.Value));
    }

    [Fact] // M12
    public void A_non_registered_parameter_is_selected_and_set()
        => Assert.Equal(
            [new(MidiValueKind.NonRegistered, 9, 128, 4864), new(MidiValueKind.NonRegistered, 9, 128, 4928)],
            MidiStreams.Values(new(), "B8 63 01 B8 62 00 B8 06 26 B8 26 40"));

    [Theory] // M13
    [InlineData("B0 65 00 64 00 06 02", 0)]
    [InlineData("B0 65 00 64 01 06 02", 1)]
    [InlineData("B0 65 00 64 02 06 02", 2)]
    public void A_registered_parameter_is_selected_and_set(string stream, int number)
        => Assert.Equal([new(MidiValueKind.Registered, 1, number, 256)], MidiStreams.Values(new(), stream));

    [Theory]
    [InlineData("B0 65 00 64 00 65 7F 64 7F 06 02")] // M13: the null parameter
    [InlineData("B0 06 02")]
    [InlineData("B0 63 01 06 02")]
    [InlineData("B0 63 01 65 00 62 00 06 02")]
    [InlineData("B0 63 01 62 00 79 00 06 02")]
    [InlineData("B0 63 01 62 00 60 00")] // M14 without a known value
    [InlineData("B0 63 01 62 00 26 05")] // a lower half without its upper one
    [InlineData("B0 27 05")]
    public void Data_for_no_parameter_is_ignored(string stream) => Assert.Empty(MidiStreams.Values(new(), stream));

    [Fact] // M14: the value byte says nothing
    public void Increment_and_decrement_step_by_one_within_the_range()
    {
        Assert.Equal([256, 257, 256, 255], MidiStreams.Values(new(), "B0 63 01 62 00 06 02 60 7F 61 7F 61 05").Select(value => value.Value));
        Assert.Equal([0, 0], MidiStreams.Values(new(), "B0 63 01 62 00 06 00 61 00").Select(value => value.Value));
        Assert.Equal([16256, 16383, 16383], MidiStreams.Values(new(), "B0 63 01 62 00 06 7F 26 7F 60 00").Select(value => value.Value));
    }

    [Fact]
    public void Channels_keep_their_selections_apart()
        => Assert.Equal([(1, 128), (2, 5)], MidiStreams.Values(new(), "B0 63 01 62 00 B1 63 00 62 05 B0 06 01 B1 06 01").Select(value => (value.Channel, value.Number)));

    [Fact]
    public void Any_value_survives_being_sent()
    {
        var messages = new MidiMessage[MidiValueEncoder.MaxMessages];
        var kinds = Gen.OneOf(MidiValueKind.Controller, MidiValueKind.Registered, MidiValueKind.NonRegistered);
        Gen.Select(kinds, Gen.Int[1, 16], Gen.Int[0, MidiController.NoParameter - 1], Gen.Int[0, 16_383])
            .Select((kind, channel, number, value) => new MidiValue(kind, channel, kind == MidiValueKind.Controller ? number % 32 : number, value))
            .Where(value => value is not { Kind: MidiValueKind.Controller, Number: MidiController.DataEntry })
            .Sample(
                value =>
                {
                    var assembler = new MidiValueAssembler();
                    MidiValue? last = null;
                    foreach (var message in messages.AsSpan(0, MidiValueEncoder.Encode(value, messages)))
                        last = assembler.TryTake(message, out var taken) ? taken : last;
                    return last == value;
                },
                threads: 1);
    }

    [Fact] // M12
    public void A_parameter_is_sent_as_the_worked_bytes()
    {
        var messages = new MidiMessage[MidiValueEncoder.MaxMessages];
        var count = MidiValueEncoder.Encode(new(MidiValueKind.NonRegistered, 9, 128, 4928), messages);
        Assert.Equal("B8 63 01 B8 62 00 B8 06 26 B8 26 40", string.Join(' ', messages.Take(count)));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiValueEncoder.Encode(new(MidiValueKind.Controller, 1, 32, 0), messages));
        Assert.Throws<ArgumentOutOfRangeException>(() => MidiValueEncoder.Encode(new(MidiValueKind.Registered, 1, 0, 16_384), messages));
    }
}
