using System.Text;
using CsCheck;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>A message or a bundle of a random packet.</summary>
internal sealed record OscNode(OscMessage? Message, OscTimeTag TimeTag, OscNode[] Elements)
{
    public byte[] Encode()
    {
        var buffer = new byte[65_536];
        var writer = new OscWriter(buffer);
        WriteTo(ref writer);
        Assert.True(writer.TryFinish(out var length), writer.Error.ToString());
        return buffer[..length];
    }

    public IEnumerable<OscMessage> Flatten() => Message is null ? Elements.SelectMany(element => element.Flatten()) : [Message];

    private void WriteTo(ref OscWriter writer)
    {
        if (Message is not null)
        {
            Message.WriteTo(ref writer);
            return;
        }

        writer.BeginBundle(TimeTag);
        foreach (var element in Elements)
            element.WriteTo(ref writer);
        writer.EndBundle();
    }
}

/// <summary>Random messages and packets.</summary>
internal static class GenOsc
{
    private static readonly Gen<string> Text = Gen.String[Gen.OneOf(Gen.Char.AlphaNumeric, Gen.OneOf(' ', ',', '#', 'é', '中')), 0, 9];

    private static readonly Gen<OscArgument> Argument = Gen.OneOf(
        Gen.Int.Select(OscArgument.Of),
        Gen.Float.Select(OscArgument.Of),
        Gen.Long.Select(OscArgument.Of),
        Gen.Double.Select(OscArgument.Of),
        Gen.Bool.Select(OscArgument.Of),
        Text.Select(OscArgument.Of),
        Text.Select(OscArgument.OfSymbol),
        Gen.Byte.Array[0, 20].Select(bytes => OscArgument.OfBlob(bytes)),
        Gen.ULong.Select(bits => OscArgument.Of(new OscTimeTag(bits))),
        Gen.UInt.Select(OscArgument.OfColour),
        Gen.UInt.Select(OscArgument.OfMidi),
        Gen.Char.AlphaNumeric.Select(value => OscArgument.OfCharacter(new Rune(value))),
        Gen.OneOf(OscArgument.Nil, OscArgument.Impulse));

    private static readonly Gen<OscArgument[]> Arguments = Gen.OneOf(
        Argument.Array[0, 5],
        Argument.Array[0, 5].Select(inside => (OscArgument[])[OscArgument.ArrayStart, .. inside, OscArgument.ArrayEnd])).Array[0, 3].Select(parts => parts.SelectMany(part => part).ToArray());

    public static readonly Gen<OscMessage> Message =
        Gen.Select(Gen.String[Gen.Char.AlphaNumeric, 1, 9].Array[1, 4], Arguments, (names, arguments) => new OscMessage("/" + string.Join('/', names), arguments.AsSpan()));

    public static readonly Gen<OscMessage> OneNumber =
        Gen.Select(Gen.String[Gen.Char.AlphaNumeric, 1, 9], Gen.OneOf(Gen.Float.Select(OscArgument.Of), Gen.Int.Select(OscArgument.Of), Gen.Double.Select(OscArgument.Of)), (name, number) => new OscMessage("/" + name, number));

    public static readonly Gen<OscNode> Packet = PacketOf(4);

    private static Gen<OscNode> PacketOf(int depth)
    {
        var message = Message.Select(value => new OscNode(value, default, []));
        return depth == 0 ? message : Gen.OneOf(message, Gen.Select(Gen.ULong, PacketOf(depth - 1).Array[0, 4], (tag, elements) => new OscNode(null, new(tag), elements)));
    }
}
