namespace TrimAssist.DemoDesk.Band;

/// <summary>How a kind of source behaves, in round figures of common practice.</summary>
/// <param name="Name">The kind's name.</param>
/// <param name="Struck">Whether it is struck: loud at once, then decaying.</param>
/// <param name="BeatsPerHit">Beats between hits, or between notes.</param>
/// <param name="DecayDbPerS">How fast a note dies away.</param>
/// <param name="SpreadDb">How much notes differ, standard deviation.</param>
/// <param name="CrestDb">Peak over RMS within a frame (RMS after AES17).</param>
/// <param name="HoldBackDb">How much softer it is played in the check, mean.</param>
/// <param name="NoiseDbu">Noise that comes down the line with it.</param>
/// <param name="Microphone">Whether a microphone picks it up, which hears everybody else too; a line does not.</param>
internal sealed record SourceKind(
    string Name, bool Struck, double BeatsPerHit, double DecayDbPerS, double SpreadDb, double CrestDb, double HoldBackDb, double NoiseDbu, bool Microphone)
{
    public static SourceKind Kick { get; } = new("kick", true, 1, 140, 1.6, 11, 3.5, -92, true);

    public static SourceKind Snare { get; } = new("snare", true, 2, 110, 2.2, 14, 4.5, -90, true);

    public static SourceKind Tom { get; } = new("tom", true, 8, 70, 2.5, 12, 5, -90, true);

    public static SourceKind Overhead { get; } = new("overhead", true, 0.5, 40, 2.5, 13, 4, -88, true);

    public static SourceKind Bass { get; } = new("bass", false, 1, 18, 2, 7, 4, -78, false);

    public static SourceKind Guitar { get; } = new("guitar", false, 1, 14, 2.5, 8, 6, -70, true);

    public static SourceKind AcousticGuitar { get; } = new("acoustic guitar", true, 0.5, 24, 2.5, 10, 6, -82, false);

    public static SourceKind Keys { get; } = new("keys", false, 1, 12, 3, 8, 4, -84, false);

    public static SourceKind Voice { get; } = new("voice", false, 2, 16, 3.5, 10, 7, -94, true);

    public static SourceKind Fiddle { get; } = new("fiddle", false, 1, 10, 3, 8, 5, -80, true);

    public static SourceKind Brass { get; } = new("brass", false, 2, 14, 3, 9, 5, -92, true);

    public static SourceKind Playback { get; } = new("playback", false, 0.5, 20, 1.2, 9, 0, -86, false);
}
