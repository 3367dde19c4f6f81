using System.Globalization;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Profiles;

/// <summary>The kinds of MIDI message that can carry a value.</summary>
public enum MidiMessageKind
{
    /// <summary>A controller, 7 bits.</summary>
    Controller,

    /// <summary>A pair of controllers, 14 bits.</summary>
    Controller14,

    /// <summary>A non-registered parameter, 14 bits.</summary>
    Nrpn,

    /// <summary>A note and its velocity.</summary>
    Note,

    /// <summary>Polyphonic pressure, 7 bits.</summary>
    PolyPressure,

    /// <summary>A system exclusive message with places for input and value.</summary>
    SystemExclusive,
}

/// <summary>Where a value stands in MIDI.</summary>
/// <param name="Kind">The kind of message.</param>
/// <param name="Channel">The channel, 1 to 16.</param>
/// <param name="Number">The controller, parameter or note.</param>
/// <param name="Exclusive">The system exclusive message; <see langword="null"/> for the other kinds.</param>
/// <param name="Low">The value that means the lower end.</param>
/// <param name="High">The value that means the upper end.</param>
public sealed record MidiTemplate(MidiMessageKind Kind, MidiNumber Channel, MidiNumber Number, ExclusiveTemplate? Exclusive, int Low, int High)
{
    private const int Most7 = 127;
    private const int Most14 = 16383;

    /// <summary>Whether the message differs from input to input.</summary>
    public bool NamesInput => Exclusive?.HasInput ?? (Channel.PerInput || Number.PerInput);

    /// <summary>The largest value that the message can carry.</summary>
    public int MostValue => Exclusive?.MostValue ?? (Kind is MidiMessageKind.Controller14 or MidiMessageKind.Nrpn ? Most14 : Most7);

    /// <summary>The messages that set a value, each with its own status; <see langword="null"/> where the value does not fit.</summary>
    public byte[]? Encode(int input, int value)
    {
        if (value < 0 || value > MostValue)
            return null;
        var (channel, number) = (Channel.For(input), Number.For(input));
        return Kind switch
        {
            MidiMessageKind.SystemExclusive => Exclusive!.Format(input, value),
            MidiMessageKind.Controller => Bytes([MidiMessage.ControlChange(channel, number, value)]),
            MidiMessageKind.Note => Bytes([MidiMessage.NoteOn(channel, number, value)]),
            MidiMessageKind.Controller14 => Bytes(new MidiValue(MidiValueKind.Controller, channel, number, value)),
            MidiMessageKind.Nrpn => Bytes(new MidiValue(MidiValueKind.NonRegistered, channel, number, value)),
            _ => null,
        };
    }

    /// <inheritdoc/>
    public override string ToString() => Exclusive?.Text
        ?? string.Create(CultureInfo.InvariantCulture, $"{Kind.ToString().ToLowerInvariant()} {Number} on channel {Channel}");

    private static byte[] Bytes(MidiValue value)
    {
        Span<MidiMessage> messages = stackalloc MidiMessage[MidiValueEncoder.MaxMessages];
        return Bytes(messages[..MidiValueEncoder.Encode(value, messages)]);
    }

    private static byte[] Bytes(ReadOnlySpan<MidiMessage> messages)
    {
        Span<byte> bytes = stackalloc byte[3 * MidiValueEncoder.MaxMessages];
        var writer = new MidiWriter(bytes);
        foreach (var message in messages)
            writer.TryWrite(message);
        return bytes[..writer.Length].ToArray();
    }
}
