using System.Text;

namespace TrimAssist.Protocols.Osc;

/// <content>Between values and the wire.</content>
public readonly partial struct OscArgument
{
    /// <summary>Takes the next argument or bracket of a message; false after the last.</summary>
    internal static bool TryRead(ref OscMessageReader message, out OscArgument argument)
    {
        var tag = message.NextTag;
        argument = tag switch
        {
            OscTypeTag.Int32 when message.TryReadInt32(out var value) => Of(value),
            OscTypeTag.Float when message.TryReadFloat(out var value) => Of(value),
            OscTypeTag.Text or OscTypeTag.Symbol when message.TryReadString(out var value) => new(tag, content: Encoding.UTF8.GetString(value)),
            OscTypeTag.Blob when message.TryReadBlob(out var value) => OfBlob(value),
            OscTypeTag.Int64 when message.TryReadInt64(out var value) => Of(value),
            OscTypeTag.Double when message.TryReadDouble(out var value) => Of(value),
            OscTypeTag.TimeTag when message.TryReadTimeTag(out var value) => Of(value),
            OscTypeTag.Character when message.TryReadCharacter(out var value) => OfCharacter(value),
            OscTypeTag.Colour when message.TryReadColour(out var value) => OfColour(value),
            OscTypeTag.Midi when message.TryReadMidi(out var value) => OfMidi(value),
            _ when message.TrySkip() => new(tag),
            _ => default,
        };
        return argument.Tag != OscTypeTag.None;
    }

    /// <summary>Writes the argument's bytes; types without bytes write none.</summary>
    internal void WriteTo(ref OscWriter writer)
    {
        switch (Tag)
        {
            case OscTypeTag.Int32:
                writer.WriteInt32((int)_bits);
                break;
            case OscTypeTag.Float:
                writer.WriteFloat(BitConverter.UInt32BitsToSingle((uint)_bits));
                break;
            case OscTypeTag.Text or OscTypeTag.Symbol:
                writer.WriteString(Text);
                break;
            case OscTypeTag.Blob:
                writer.WriteBlob(_content as byte[]);
                break;
            case OscTypeTag.Int64:
                writer.WriteInt64((long)_bits);
                break;
            case OscTypeTag.Double:
                writer.WriteDouble(BitConverter.UInt64BitsToDouble(_bits));
                break;
            case OscTypeTag.TimeTag:
                writer.WriteTimeTag(new(_bits));
                break;
            case OscTypeTag.Character:
                writer.WriteCharacter(new((uint)_bits));
                break;
            case OscTypeTag.Colour:
                writer.WriteColour((uint)_bits);
                break;
            case OscTypeTag.Midi:
                writer.WriteMidi((uint)_bits);
                break;
        }
    }

    /// <summary>An upper bound of the bytes on the wire, tag included.</summary>
    internal int MaxSize => 1 + (_content switch
    {
        string text => Encoding.UTF8.GetMaxByteCount(text.Length) + 4,
        byte[] bytes => bytes.Length + 8,
        _ => sizeof(ulong),
    });
}
