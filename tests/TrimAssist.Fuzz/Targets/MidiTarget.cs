using TrimAssist.Protocols.Midi;

namespace TrimAssist.Fuzz.Targets;

/// <summary>Any bytes as a MIDI stream, cut in two at a place the first byte chooses: never throws, the cut changes nothing, and what was read survives being written.</summary>
public static class MidiTarget
{
    private const int Limit = 32;

    public static void Run(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty)
            return;

        var stream = bytes[1..];
        var cut = Math.Min(bytes[0], stream.Length);
        var whole = new MidiParser(Limit);
        var expected = Read(whole, stream);
        var halves = new MidiParser(Limit);
        var actual = Read(halves, stream[..cut]);
        actual.AddRange(Read(halves, stream[cut..]));
        Expect.That(Same(expected, actual) && whole.Faults == halves.Faults, "the cut changed what was read");

        SurvivesWriting(expected, runningStatus: false);
        SurvivesWriting(expected, runningStatus: true);
    }

    private static void SurvivesWriting(List<byte[]> messages, bool runningStatus)
    {
        var buffer = new byte[messages.Sum(message => message.Length)];
        var writer = new MidiWriter(buffer, runningStatus);
        List<byte[]> written = [];
        foreach (var message in messages)
        {
            if (message[0] == MidiStatus.Exclusive && !SystemExclusive.IsValid(message))
                continue;

            Expect.That(TryWrite(ref writer, message), "cannot be written");
            written.Add(message);
        }

        var parser = new MidiParser(Limit);
        Expect.That(Same(written, Read(parser, buffer.AsSpan(0, writer.Length))) && parser.Faults == 0, "changed by being written");
    }

    private static bool TryWrite(ref MidiWriter writer, byte[] message)
        => message[0] == MidiStatus.Exclusive
            ? writer.TryWriteExclusive(message)
            : MidiMessage.TryCreate(message[0], message.ElementAtOrDefault(1), message.ElementAtOrDefault(2), out var parsed) && writer.TryWrite(parsed);

    private static bool Same(List<byte[]> left, List<byte[]> right)
        => left.Count == right.Count && left.Zip(right).All(pair => pair.First.AsSpan().SequenceEqual(pair.Second));

    private static List<byte[]> Read(MidiParser parser, ReadOnlySpan<byte> input)
    {
        List<byte[]> messages = [];
        var bytes = new byte[3];
        while (parser.TryRead(ref input, out var message, out var exclusive))
        {
            Expect.That(exclusive.IsEmpty || (exclusive.Length <= Limit && message.Length == 0), "too long a system exclusive");
            messages.Add(message.TryWrite(bytes, out var length) ? bytes[..length] : exclusive.ToArray());
        }

        return messages;
    }
}
