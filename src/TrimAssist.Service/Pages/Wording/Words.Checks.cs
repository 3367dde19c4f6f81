using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Pages.Wording;

// Words of the sound check and the show watch.
internal static partial class Words
{
    // The line has room for so many names; each row says the rest of itself.
    private const int MostNamed = 4;

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
    public static Sentence Remark(Saying remark) => Said(remark) switch
    {
        { Text.Length: 0 } nothing => nothing,
        var said => said with { Text = $"{char.ToUpperInvariant(said.Text[0])}{said.Text[1..].TrimEnd('.')}." },
    };

    /// <summary>Where the check or the show stands, in one line.</summary>
    public static string Status(int inCheck, IReadOnlyList<string> notYet) => (inCheck - notYet.Count, notYet.Count) switch
    {
        (var heard, 0) => Filled("CheckAll", heard),
        (var heard, > MostNamed) => Filled("CheckMost", heard, inCheck, string.Join(", ", notYet.Take(MostNamed)), notYet.Count - MostNamed),
        (var heard, _) => Filled("CheckSome", heard, inCheck, string.Join(", ", notYet)),
    };
}
