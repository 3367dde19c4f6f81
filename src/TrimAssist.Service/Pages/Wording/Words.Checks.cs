namespace TrimAssist.Service.Pages.Wording;

// Words of the sound check and the show watch.
internal static partial class Words
{
    public static string StartCheck => Text();
    public static string FinishCheck => Text();
    public static string Choose => Text();
    public static string ChooseTitle => Text();
    public static string ChooseNamed => Text();
    public static string ChooseAll => Text();
    public static string ChooseNone => Text();
    public static string HeardEnough => Text();
    public static string WatchOn => Text();
    public static string WatchOff => Text();
    public static string Watching => Text();

    /// <summary>A remark of the check as a sentence.</summary>
    public static string Sentence(string remark) => remark.Length == 0 ? remark : $"{char.ToUpperInvariant(remark[0])}{remark[1..].TrimEnd('.')}.";

    /// <summary>Where the check or the show stands, in one line.</summary>
    public static string Status(int inCheck, IReadOnlyList<string> notYet) => (inCheck - notYet.Count, notYet.Count) switch
    {
        (var heard, 0) => Filled("CheckAll", heard),
        (var heard, _) => Filled("CheckSome", heard, inCheck, string.Join(", ", notYet)),
    };
}
