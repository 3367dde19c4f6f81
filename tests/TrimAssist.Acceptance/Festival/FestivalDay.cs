using System.Globalization;
using System.Text;
using TrimAssist.DemoDesk.Band;
using TrimAssist.DemoDesk.Festival;

namespace TrimAssist.Acceptance.Festival;

/// <summary>
/// An invented day: three stages in turn, nine acts of eight inputs. Nobody gives all in a short check: they play it about half as loud as the show, which
/// is 10 dB (ten phon are twice as loud: Stevens' sone scale). Each kind of source holds back 5 dB more than the demo's, the same in every act, and each player
/// 1.5 dB (standard deviation) otherwise than their kind. Nobody tells the program, which begins with 4 dB. One of them plays with two bands.
/// </summary>
internal static class FestivalDay
{
    public const int Inputs = 8;

    public static readonly string[] Stages = ["harbour", "orchard", "mill"];

    public static readonly string[] Acts =
    [
        "Copper Finch", "Slow Ferry", "The Lamplight Post", "Quiet Anvil", "Eel Street", "Windfall Choir", "Paper Lighthouse", "Gravel Sonata", "Ninth Tide",
    ];

    /// <summary>The act that the harmony singer of the first one leads.</summary>
    public const int OtherBand = 4;

    /// <summary>Where that singer stands in the one, and in the other.</summary>
    public const int SingsHarmonyOn = 8;
    public const int LeadsOn = 7;

    /// <summary>So much more than in the demo: 8.5 dB for kicks up to 12 dB for voices.</summary>
    private const double HoldBackMoreDb = 5;

    private static readonly string[] FirstNames = ["Ida", "Tam", "Wren", "Jory", "Mina", "Odo", "Pia", "Rolf", "Sefa"];
    private static readonly string[] LastNames = ["Fenn", "Hallow", "Quill", "Marrow", "Tansy", "Oake", "Lisle", "Brand"];

    private static readonly (string Name, string Source, SourceKind Kind, double LoudestDbu)[] Band =
    [
        ("Kick", "kick", SourceKind.Kick, -2),
        ("Snare", "snare", SourceKind.Snare, -6),
        ("Bass", "bass", SourceKind.Bass, -6),
        ("Guitar left", "guitar", SourceKind.Guitar, -10),
        ("Guitar right", "guitar", SourceKind.Guitar, -8),
        ("Organ", "organ", SourceKind.Keys, 0),
        ("Lead", "voice", SourceKind.Voice, -22),
        ("Harmony", "voice", SourceKind.Voice, -26),
    ];

    /// <summary>The stage of an act: in turn.</summary>
    public static int StageOf(int act) => act % Stages.Length;

    /// <summary>What happens on one stage.</summary>
    public static Programme ProgrammeOf(IEnumerable<int> acts) =>
        new(Inputs, [.. acts.Select(act => new Act(Acts[act], 92 + (7 * act), [.. Enumerable.Range(1, Inputs).Select(input => LineOf(act, input))], []))], CheckS: 30, ShowS: 60, PauseS: (1, 1));

    /// <summary>Who plays.</summary>
    public static string PlayerOf(int act, int input) => (act, input) is (OtherBand, LeadsOn)
        ? PlayerOf(0, SingsHarmonyOn)
        : $"{FirstNames[act]} {LastNames[input - 1]}";

    /// <summary>An act's input list as its crew wrote it: every third one comes from a spreadsheet that writes semicolons, decimal commas and Latin-1.</summary>
    public static byte[] ListOf(int act)
    {
        var begins = string.Create(CultureInfo.InvariantCulture, $"{12 + act}:30");
        var rows = Enumerable.Range(1, Inputs).Select(input => (Input: input, Band[input - 1].Name, Band[input - 1].Source, Player: PlayerOf(act, input)));
        return act % 3 == 2
            ? Encoding.Latin1.GetBytes($"# act: {Acts[act]}\n# start: {begins}\nCh #;Label;Instrument;Musician;Target (dBFS);Remarks\n" + string.Concat(
                rows.Select(row => $"{row.Input};{row.Name};{row.Source};{row.Player};-12,0;fünf Meter Kabel\n")))
            : Encoding.UTF8.GetBytes($"# act: {Acts[act]}\n# start: {begins}\ninput,name,source,role,player\n" + string.Concat(
                rows.Select(row => $"{row.Input},{row.Name},{row.Source},performer,{row.Player}\n")));
    }

    // The trim is where the act before left it: up to 8 dB off.
    private static Line LineOf(int act, int input)
    {
        var (name, _, kind, loudest) = Band[input - 1];
        var off = (((act * 5) + (input * 3)) % 17) - 8;
        return new Line(input, name, kind with { HoldBackDb = kind.HoldBackDb + HoldBackMoreDb }, loudest, Math.Clamp(6 - loudest + off, 0, 60), Player: PlayerOf(act, input));
    }
}
