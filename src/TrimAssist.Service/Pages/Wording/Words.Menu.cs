namespace TrimAssist.Service.Pages.Wording;

// Words of filters and menu, with the key to marks and gestures.
internal static partial class Words
{
    public static string ShowOnly => Text();
    public static string FilterAll => Text();
    public static string FilterNeeds => Text();
    public static string FilterClipping => Text();
    public static string FilterHissing => Text();
    public static string FilterSilent => Text();
    public static string Menu => Text();
    public static string Views => Text();
    public static string LanguageHead => Text("Language");
    public static string Look => Text();
    public static string Dark => Text();
    public static string Light => Text();
    public static string Contrast => Text();
    public static string Compact => Text();
    public static string Large => Text();
    public static string Keys => Text();
    public static string Stage => Text();
    public static string Engineer => Text();
    public static string History => Text();
    public static string Devices => Text();
    public static string Changeover => Text();

    /// <summary>What a view is called, by the end of its address.</summary>
    public static string Place(string view) => view switch
    {
        "" => Engineer,
        "/stage" => Stage,
        "/room" => Room,
        "/changeover" => Changeover,
        "/history" => History,
        _ => Devices,
    };

    /// <summary>What the bar's marks and the controls' gestures mean: a mark's class and its words.</summary>
    public static IReadOnlyList<(string Mark, string Text)> Key =>
    [
        ("peak", Text("KeyPeak")),
        ("floor", Text("KeyFloor")),
        ("passage", Text("KeyPassage")),
        ("target", Text("KeyTarget")),
        ("forecast", Text("KeyForecast")),
        ("full", Text("KeyFull")),
        ("hold", Text("KeyHold")),
        ("twice", Text("KeyTwice")),
        ("escape", Text("KeyEscape")),
    ];
}
