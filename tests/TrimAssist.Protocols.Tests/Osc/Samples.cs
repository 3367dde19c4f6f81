using TrimAssist.Protocols.Osc;

namespace TrimAssist.Protocols.Tests.Osc;

/// <summary>Packets with known bytes. O1 and O2 are printed in "OpenSoundControl Specification 1.0 Examples" (29 March 2002); the others follow OSC 1.0's tables by hand.</summary>
internal static class Samples
{
    public static readonly TheoryData<string, string, OscMessage> Messages = new()
    {
        { "O1", "2F 6F 73 63 69 6C 6C 61 74 6F 72 2F 34 2F 66 72 65 71 75 65 6E 63 79 00 2C 66 00 00 43 DC 00 00", new("/oscillator/4/frequency", OscArgument.Of(440f)) },
        {
            "O2",
            "2F 66 6F 6F 00 00 00 00 2C 69 69 73 66 66 00 00 00 00 03 E8 FF FF FF FF 68 65 6C 6C 6F 00 00 00 3F 9D F3 B6 40 B5 B2 2D",
            new("/foo", OscArgument.Of(1000), OscArgument.Of(-1), OscArgument.Of("hello"), OscArgument.Of(1.234f), OscArgument.Of(5.678f))
        },
        { "O5", "2F 62 00 00 2C 62 00 00 00 00 00 03 01 02 03 00", new("/b", OscArgument.OfBlob([1, 2, 3])) },
        { "O14", "2F 74 00 00 2C 54 46 4E 49 00 00 00", new("/t", OscArgument.Of(true), OscArgument.Of(false), OscArgument.Nil, OscArgument.Impulse) },
        { "no arguments", "2F 61 00 00 2C 00 00 00", new("/a") },
        { "int64 and double", "2F 61 00 00 2C 68 64 00 FF FF FF FF FF FF FF FE 3F F8 00 00 00 00 00 00", new("/a", OscArgument.Of(-2L), OscArgument.Of(1.5)) },
        { "time tag", "2F 61 00 00 2C 74 00 00 83 AA 7E 80 00 00 00 00", new("/a", OscArgument.Of(OscTimeTag.From(DateTimeOffset.UnixEpoch))) },
        {
            "character, colour, midi, symbol",
            "2F 61 00 00 2C 63 72 6D 53 00 00 00 00 00 00 41 11 22 33 FF 00 90 3C 64 67 6F 00 00",
            new("/a", OscArgument.OfCharacter(new('A')), OscArgument.OfColour(0x112233FF), OscArgument.OfMidi(0x00903C64), OscArgument.OfSymbol("go"))
        },
        {
            "arrays",
            "2F 61 00 00 2C 69 5B 69 5B 5D 5D 00 00 00 00 01 00 00 00 02",
            new("/a", OscArgument.Of(1), OscArgument.ArrayStart, OscArgument.Of(2), OscArgument.ArrayStart, OscArgument.ArrayEnd, OscArgument.ArrayEnd)
        },
        { "O3, a string of three and one of four", "2F 61 00 00 2C 73 73 00 4F 53 43 00 64 61 74 61 00 00 00 00", new("/a", OscArgument.Of("OSC"), OscArgument.Of("data")) },
        { "an empty string and an empty blob", "2F 61 00 00 2C 73 62 00 00 00 00 00 00 00 00 00", new("/a", OscArgument.Of(""), OscArgument.OfBlob([])) },
    };

    /// <summary>O7: two messages in a bundle marked "immediately".</summary>
    public const string TwoInBundle =
        "23 62 75 6E 64 6C 65 00 00 00 00 00 00 00 00 01 00 00 00 0C 2F 61 00 00 2C 69 00 00 00 00 00 01 00 00 00 08 2F 62 00 00 2C 54 00 00";

    public static readonly OscMessage[] MessagesOfTwoInBundle = [new("/a", OscArgument.Of(1)), new("/b", OscArgument.Of(true))];
}
