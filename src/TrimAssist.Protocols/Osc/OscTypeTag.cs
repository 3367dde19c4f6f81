namespace TrimAssist.Protocols.Osc;

/// <summary>The argument types of OSC, by the byte of their type tag (OSC 1.0, "OSC Type Tag String"; OSC 1.1, table 1 of Freed and Schmeder, NIME 2009).</summary>
public static class OscTypeTag
{
    /// <summary>No argument: read past the last one.</summary>
    public const byte None = 0;

    /// <summary>32-bit integer.</summary>
    public const byte Int32 = (byte)'i';

    /// <summary>32-bit IEEE 754 float.</summary>
    public const byte Float = (byte)'f';

    /// <summary>String.</summary>
    public const byte Text = (byte)'s';

    /// <summary>String used as a symbol.</summary>
    public const byte Symbol = (byte)'S';

    /// <summary>Counted bytes.</summary>
    public const byte Blob = (byte)'b';

    /// <summary>64-bit integer.</summary>
    public const byte Int64 = (byte)'h';

    /// <summary>64-bit IEEE 754 float.</summary>
    public const byte Double = (byte)'d';

    /// <summary>Time tag.</summary>
    public const byte TimeTag = (byte)'t';

    /// <summary>ASCII character, sent as 32 bits.</summary>
    public const byte Character = (byte)'c';

    /// <summary>Colour: red, green, blue, alpha.</summary>
    public const byte Colour = (byte)'r';

    /// <summary>MIDI message: port, status, two data bytes.</summary>
    public const byte Midi = (byte)'m';

    /// <summary>True; no bytes.</summary>
    public const byte True = (byte)'T';

    /// <summary>False; no bytes.</summary>
    public const byte False = (byte)'F';

    /// <summary>Nil; no bytes.</summary>
    public const byte Nil = (byte)'N';

    /// <summary>Impulse in OSC 1.1, "infinitum" in 1.0; no bytes.</summary>
    public const byte Impulse = (byte)'I';

    /// <summary>Start of an array; not an argument itself.</summary>
    public const byte ArrayStart = (byte)'[';

    /// <summary>End of an array; not an argument itself.</summary>
    public const byte ArrayEnd = (byte)']';

    /// <summary>Whether the tag is an array bracket rather than an argument.</summary>
    public static bool IsBracket(byte tag) => tag is ArrayStart or ArrayEnd;

    /// <summary>Bytes an argument of this type takes; <see cref="VariableSize"/> where the bytes themselves say it, <see cref="UnknownSize"/> for an unknown tag.</summary>
    internal static int SizeOf(byte tag) => Sizes[tag];

    internal const int VariableSize = -1;
    internal const int UnknownSize = -2;

    // Looked up rather than decided: every argument of every message is asked for.
    private static readonly sbyte[] Sizes = [.. Enumerable.Range(0, byte.MaxValue + 1).Select(tag => (byte)tag switch
    {
        Int32 or Float or Character or Colour or Midi => (sbyte)4,
        Int64 or Double or TimeTag => (sbyte)8,
        True or False or Nil or Impulse or ArrayStart or ArrayEnd => (sbyte)0,
        Text or Symbol or Blob => (sbyte)VariableSize,
        _ => (sbyte)UnknownSize,
    })];
}
