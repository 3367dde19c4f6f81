using TrimAssist.DemoDesk.Band;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>What happens on an input at a moment of an act.</summary>
internal enum Mishap
{
    /// <summary>A plug is pulled: a bang, then the line is dead.</summary>
    UnplugPop,

    /// <summary>A plug is pushed in: the line was dead, a bang, then the source is there.</summary>
    PlugPop,

    /// <summary>A bad cable: short bangs for two seconds.</summary>
    Crackle,

    /// <summary>A boost pedal is stamped on for twelve seconds.</summary>
    Boost,

    /// <summary>The signal is gone for a second and a half.</summary>
    Dropout,
}

/// <summary>One mishap on the programme.</summary>
/// <param name="Input">The input.</param>
/// <param name="What">What happens.</param>
/// <param name="Phase">In which phase.</param>
/// <param name="AtS">Seconds after the phase began.</param>
/// <param name="PeakDbu">How loud the bang is, at the plug; the boost's gain in dB.</param>
/// <param name="MidNote">Whether it catches the player in the middle of a note. Plugs are else pulled after the last one.</param>
internal sealed record PlannedMishap(int Input, Mishap What, FestivalPhase Phase, double AtS, double PeakDbu = 8, bool MidNote = false);

/// <summary>One line of an act's input list.</summary>
/// <param name="Input">The desk input.</param>
/// <param name="Label">Its name on the desk.</param>
/// <param name="Kind">What is plugged in.</param>
/// <param name="LoudestDbu">The loudest peak it reaches in the show, at the plug.</param>
/// <param name="TrimDb">Where the trim stands when the act comes on.</param>
/// <param name="PadOn">Whether the pad is in when the act comes on.</param>
/// <param name="CeilingDbu">Where an earlier stage clips; none: infinity.</param>
/// <param name="Player">Who plays it, where the same person plays in another act too; <see langword="null"/>: somebody who does not.</param>
internal sealed record Line(
    int Input, string Label, SourceKind Kind, double LoudestDbu, double TrimDb, bool PadOn = false, double CeilingDbu = double.PositiveInfinity, string? Player = null);

/// <summary>An act: its name, its tempo, its input list and what goes wrong.</summary>
internal sealed record Act(string Name, double BeatsPerMinute, IReadOnlyList<Line> Lines, IReadOnlyList<PlannedMishap> Mishaps);
