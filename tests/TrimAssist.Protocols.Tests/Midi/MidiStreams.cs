using TrimAssist.Protocols.Midi;

namespace TrimAssist.Protocols.Tests.Midi;

/// <summary>Reads whole streams into printed messages, for comparison.</summary>
internal static class MidiStreams
{
    public static List<string> Read(MidiParser parser, params byte[][] chunks)
    {
        List<string> messages = [];
        foreach (var chunk in chunks)
        {
            ReadOnlySpan<byte> input = chunk;
            while (parser.TryRead(ref input, out var message, out var exclusive))
                messages.Add(exclusive.IsEmpty ? message.ToString() : Hex.Print(exclusive));
            Assert.True(input.IsEmpty);
        }

        return messages;
    }

    public static List<MidiValue> Values(MidiValueAssembler assembler, string stream)
    {
        List<MidiValue> values = [];
        var parser = new MidiParser();
        ReadOnlySpan<byte> input = Hex.Bytes(stream);
        while (parser.TryRead(ref input, out var message, out _))
        {
            if (assembler.TryTake(message, out var value))
                values.Add(value);
        }

        return values;
    }
}
