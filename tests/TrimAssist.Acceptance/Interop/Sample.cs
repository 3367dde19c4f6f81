using System.Globalization;
using TrimAssist.Protocols.Osc;
using static TrimAssist.Protocols.Osc.OscArgument;

namespace TrimAssist.Acceptance.Interop;

/// <summary>Messages in every form that the codec writes, and how the peers' scripts put a message into a line of text.</summary>
internal static class Sample
{
    /// <summary>Of the types that every implementation knows.</summary>
    public static IReadOnlyList<OscMessage> Plain { get; } =
    [
        new("/a"),
        new("/desk/7/gain", Of(31.5f)),
        new("/desk/7/shut", Of(1)),
        new("/desk/8/shut", Of(true), Of(false), Nil),
        new("/ask", Of("/desk/7/gain")),
        new("/list", Of(int.MinValue), Of(-1), Of(0), Of(int.MaxValue), Of(-0.25f), Of(0f)),
        .. Enumerable.Range(1, 9).Select(length => new OscMessage("/" + new string('x', length), Of(new string('s', length)), Of(length))),
        .. Enumerable.Range(1, 9).Select(length => new OscMessage("/blob", OfBlob(Enumerable.Range(1, length).Select(i => (byte)(i * 27)).ToArray()), Of(length))),
    ];

    /// <summary>Of the types that OSC 1.0 leaves open, or 1.1 adds, and that the fuller implementations know.</summary>
    public static IReadOnlyList<OscMessage> Wide { get; } = [new("/wide", Of(0.1), Of(-5_000_000_000), Impulse), new("/wide/d", Of(-60.0))];

    /// <summary>A packet a message, then all of them in a bundle, in bundles inside a bundle, and a bundle of nothing.</summary>
    public static IEnumerable<(byte[] Packet, OscMessage[] Holds)> Packets(IReadOnlyList<OscMessage> messages) =>
    [
        .. messages.Select(message => (message.Encode(), new[] { message })),
        (Bundle(OscTimeTag.Immediate, messages, depth: 1), [.. messages]),
        (Bundle(new OscTimeTag(0xBC17C200_80000000), messages, depth: 3), [.. messages]),
        (Bundle(OscTimeTag.Immediate, [], depth: 1), []),
    ];

    /// <summary>The address and every argument as its tag and value.</summary>
    public static string Line(OscMessage message) => string.Join(' ', message.Arguments.Select(Text).Prepend(message.Address));

    /// <summary>The same without the tags of what has a value.</summary>
    public static string Untyped(OscMessage message) => string.Join(' ', message.Arguments.Select(one => Text(one).Split(':')[^1]).Prepend(message.Address));

    public static string Text(OscArgument argument) => argument.Tag switch
    {
        OscTypeTag.Text => $"s:{argument.Text}",
        OscTypeTag.Blob => $"b:{Convert.ToHexStringLower(argument.Blob!.Value.Span)}",
        OscTypeTag.Int32 or OscTypeTag.Int64 or OscTypeTag.Float or OscTypeTag.Double => string.Create(CultureInfo.InvariantCulture, $"{(char)argument.Tag}:{argument.Number}"),
        var tag => $"{(char)tag}",
    };

    private static byte[] Bundle(OscTimeTag at, IReadOnlyList<OscMessage> messages, int depth)
    {
        var bytes = new byte[16_384];
        var writer = new OscWriter(bytes);
        for (var level = 0; level < depth; level++)
            writer.BeginBundle(at);
        foreach (var message in messages)
            message.WriteTo(ref writer);
        for (var level = 0; level < depth; level++)
            writer.EndBundle();
        return writer.TryFinish(out var length) ? bytes[..length] : throw new InvalidOperationException($"{writer.Error}");
    }
}
