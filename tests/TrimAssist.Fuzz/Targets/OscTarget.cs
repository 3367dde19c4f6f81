using TrimAssist.Protocols.Osc;

namespace TrimAssist.Fuzz.Targets;

/// <summary>Any bytes as an OSC packet: reading never throws, and every message read survives being written and read again.</summary>
public static class OscTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var packet = new OscPacketReader(bytes);
        while (packet.TryReadMessage(out var message))
        {
            ReadEveryArgumentAsEveryType(message);
            SurvivesWriting(OscMessage.From(message));
        }
    }

    private static void ReadEveryArgumentAsEveryType(OscMessageReader message)
    {
        var index = 0;
        while (message.NextTag != OscTypeTag.None)
        {
            var copy = message;
            var takers = 0;
            takers += copy.TryReadInt32(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadFloat(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadString(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadBlob(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadInt64(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadDouble(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadTimeTag(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadBoolean(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadCharacter(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadColour(out _) || copy.TryReadMidi(out _) ? 1 : 0;
            copy = message;
            takers += copy.TryReadNil() || copy.TryReadImpulse() ? 1 : 0;
            copy = message;
            takers += copy.TryReadArrayStart() || copy.TryReadArrayEnd() ? 1 : 0;
            Expect.That(takers >= 1, "an argument nobody can read");

            copy = message;
            var isBracket = OscTypeTag.IsBracket(message.NextTag);
            var isNumber = copy.TryReadNumber(out var number);
            copy = message;
            Expect.That(isBracket || copy.TryReadNumberAt(index, out var again) == isNumber && (!isNumber || again.Equals(number)), "the number differs by its index");
            index += isBracket ? 0 : 1;
            Expect.That(message.TrySkip(), "an argument that cannot be skipped");
        }
    }

    private static void SurvivesWriting(OscMessage message)
    {
        Expect.That(OscMessage.TryParse(message.Encode(), out var again, out var error), $"refused its own writing: {error}");
        Expect.That(message.Equals(again), "changed by being written");
    }
}
