using TrimAssist.DemoDesk.Band;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>What happens on a desk's stage: its acts one after the other, and again from the first.</summary>
/// <param name="Inputs">Number of inputs of the desk.</param>
/// <param name="Acts">The acts in running order; at least one.</param>
/// <param name="CheckS">Length of a sound check in seconds.</param>
/// <param name="ShowS">Length of a show in seconds.</param>
/// <param name="PauseS">Length of a changeover, and of the time between check and show.</param>
internal sealed record Programme(int Inputs, IReadOnlyList<Act> Acts, double CheckS, double ShowS, (double ChangeoverS, double ReadyS) PauseS)
{
    /// <summary>Length of a phase in seconds.</summary>
    public double LengthS(FestivalPhase phase) => phase switch
    {
        FestivalPhase.Changeover => PauseS.ChangeoverS,
        FestivalPhase.Check => CheckS,
        FestivalPhase.Ready => PauseS.ReadyS,
        FestivalPhase.Show => ShowS,
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "not a phase"),
    };

    /// <summary>The Saltmarsh Lantern Fair: an invented afternoon of three invented acts on a desk of 24 inputs.</summary>
    public static Programme LanternFair { get; } = new(24,
    [
        new(
            "Harbour Kite Parade",
            124,
            [
                new(1, "Kick", SourceKind.Kick, -4, 22),
                new(2, "Snare", SourceKind.Snare, -8, 14),
                new(3, "Rack tom", SourceKind.Tom, -10, 20),
                new(4, "Floor tom", SourceKind.Tom, -9, 20),
                new(5, "Overheads", SourceKind.Overhead, -20, 30),
                new(6, "Bass DI", SourceKind.Bass, -6, 8),
                new(7, "Guitar left", SourceKind.Guitar, -12, 30),
                new(8, "Guitar right", SourceKind.Guitar, -14, 12),
                new(9, "Organ", SourceKind.Keys, 2, 9),
                new(10, "Lead voice", SourceKind.Voice, -24, 40),
                new(11, "Harmony", SourceKind.Voice, -28, 28),
            ],
            [
                new(9, Mishap.PlugPop, FestivalPhase.Check, 2, 4),
                new(7, Mishap.Boost, FestivalPhase.Show, 24, 8),
                new(8, Mishap.UnplugPop, FestivalPhase.Show, 36, 9),
                new(6, Mishap.Dropout, FestivalPhase.Show, 47),
            ]),
        new(
            "Nine Pans of Rain",
            96,
            [
                new(1, "Cajon", SourceKind.Kick, -10, 16),
                new(5, "Overheads", SourceKind.Overhead, -24, 44),
                new(6, "Double bass", SourceKind.Bass, -14, 20),
                new(12, "Acoustic guitar", SourceKind.AcousticGuitar, -8, 52, PadOn: true),
                new(13, "Fiddle", SourceKind.Fiddle, -12, 33),
                new(14, "Whistle", SourceKind.Brass, -26, 24),
                new(10, "Lead voice", SourceKind.Voice, -30, 36),
                new(11, "Harmony", SourceKind.Voice, -30, 50),
            ],
            [
                new(13, Mishap.PlugPop, FestivalPhase.Check, 1.5, 2),
                new(12, Mishap.Crackle, FestivalPhase.Show, 20, -6),
                new(13, Mishap.UnplugPop, FestivalPhase.Show, 50, 6),
            ]),
        new(
            "Magnet Orchard",
            138,
            [
                new(1, "Kick", SourceKind.Kick, 0, 12),
                new(2, "Snare", SourceKind.Snare, -4, 24),
                new(3, "Rack tom", SourceKind.Tom, -8, 8),
                new(4, "Floor tom", SourceKind.Tom, -6, 26),
                new(5, "Overheads", SourceKind.Overhead, -18, 34),
                new(6, "Bass DI", SourceKind.Bass, -2, 18),
                new(7, "Guitar left", SourceKind.Guitar, -10, 10),
                new(8, "Guitar right", SourceKind.Guitar, -10, 34),
                new(9, "Synth", SourceKind.Keys, 8, 4, CeilingDbu: 5),
                new(15, "Tracks left", SourceKind.Playback, 4, 2),
                new(16, "Tracks right", SourceKind.Playback, 4, 2),
                new(10, "Lead voice", SourceKind.Voice, -20, 46),
                new(11, "Harmony", SourceKind.Voice, -26, 33),
            ],
            [
                new(6, Mishap.PlugPop, FestivalPhase.Check, 1, 6),
                new(7, Mishap.UnplugPop, FestivalPhase.Show, 18, 10, MidNote: true),
                new(8, Mishap.Boost, FestivalPhase.Show, 30, 9),
                new(6, Mishap.UnplugPop, FestivalPhase.Show, 54, 7),
            ]),
    ], CheckS: 45, ShowS: 60, PauseS: (8, 30));
}
