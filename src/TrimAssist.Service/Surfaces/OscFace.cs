using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Surfaces;

/// <summary>
/// The face of a surface in OSC: presses in, pictures out. An address pattern (OSC 1.0) is dispatched as a server does it, but a press means one
/// thing: a pattern that names several is refused.
/// </summary>
internal sealed class OscFace
{
    private const string Root = "/trimassist";
    private readonly List<(byte[] Address, Press Press)> _methods = [];
    private readonly Dictionary<string, Press> _byAddress = new(StringComparer.Ordinal);

    public OscFace(int slots, int inputs)
    {
        for (var slot = 1; slot <= slots; slot++)
        {
            Add($"{Root}/slot/{slot}/confirm", new(PressKind.Confirm, slot));
            Add($"{Root}/slot/{slot}/decline", new(PressKind.Decline, slot));
        }

        for (var input = 1; input <= inputs; input++)
            Add($"{Root}/input/{input}/patch", new(PressKind.Patch, input));
        Add($"{Root}/alarm/acknowledge", new(PressKind.Acknowledge, 0));
    }

    /// <summary>The press that a packet holds; <see langword="null"/> where it holds none, or more than one.</summary>
    public Press? Read(ReadOnlySpan<byte> packet)
    {
        Press? held = null;
        var reader = new OscPacketReader(packet);
        while (reader.TryReadMessage(out var message))
        {
            if (!IsPressed(ref message) || !TryFind(message.Address, out var press))
                continue;
            if (held is not null || press is null)
                return null;
            held = press;
        }

        return reader.Error == OscError.None ? held : null;
    }

    /// <summary>The picture, as one bundle.</summary>
    /// <param name="picture">What the surface is to show.</param>
    /// <param name="link">How the desk's link stands.</param>
    /// <param name="answer">What became of the last press; empty before the first.</param>
    public static byte[] Write(SurfacePicture picture, string link, string answer)
    {
        List<OscMessage> messages = [new($"{Root}/link", OscArgument.Of(link)), new($"{Root}/answer", OscArgument.Of(answer))];
        foreach (var (index, slot) in picture.Slots.Index())
            Add(messages, $"{Root}/slot/{index + 1}", slot);
        Add(messages, $"{Root}/alarm", picture.Alarm);
        var bytes = new byte[64 + messages.Sum(message => message.MaxSize + 8)];
        var writer = new OscWriter(bytes);
        writer.BeginBundle(OscTimeTag.Immediate);
        foreach (var message in messages)
            message.WriteTo(ref writer);
        writer.EndBundle();
        return writer.TryFinish(out var length) ? bytes[..length] : throw new InvalidOperationException($"The picture cannot be written: {writer.Error}.");
    }

    /// <summary>The word for a state.</summary>
    public static string Word(SlotState state) => state switch
    {
        SlotState.Settling => "wait",
        SlotState.Ready => "ready",
        SlotState.OnThePage => "page",
        _ => "empty",
    };

    private static void Add(List<OscMessage> messages, string place, SlotPicture slot)
    {
        messages.Add(new($"{place}/state", OscArgument.Of(Word(slot.State))));
        messages.Add(new($"{place}/text", OscArgument.Of(slot.Text)));
        messages.Add(new($"{place}/digest", OscArgument.Of(slot.Digest)));
        messages.Add(new($"{place}/lamp", OscArgument.Of(slot.State switch { SlotState.Empty => 0f, SlotState.Ready => 1f, _ => 0.5f })));
    }

    private void Add(string address, Press press)
    {
        _methods.Add((Encoding.UTF8.GetBytes(address), press));
        _byAddress.Add(address, press);
    }

    // Whether an address or pattern names anything here, and the press that it names if it is only one.
    private bool TryFind(ReadOnlySpan<byte> address, out Press? press)
    {
        press = null;
        if (!OscAddress.IsPattern(address))
        {
            press = _byAddress.TryGetValue(Encoding.UTF8.GetString(address), out var plain) ? plain : null;
            return press is not null;
        }

        var found = 0;
        foreach (var (method, named) in _methods)
        {
            if (OscPattern.Matches(address, method))
                press = ++found == 1 ? named : null;
        }

        return found > 0;
    }

    // A pad sends 1 when it is pressed and 0 when it is let go; a plain button may send nothing at all.
    private static bool IsPressed(ref OscMessageReader message) => message.NextTag switch
    {
        OscTypeTag.None or OscTypeTag.Impulse or OscTypeTag.Nil => true,
        _ => message.TryReadNumber(out var value) && value >= 0.5,
    };
}
