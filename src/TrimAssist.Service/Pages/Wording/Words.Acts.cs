namespace TrimAssist.Service.Pages.Wording;

// Words of the changeover view.
internal static partial class Words
{
    public static string Acts => Text();
    public static string NextStart => Text();
    public static string NoStart => Text();
    public static string NoActs => Text();
    public static string IsOn => Text();
    public static string BeginAct => Text();
    public static string EndAct => Text();
    public static string RecallTrims => Text();
    public static string RecallReview => Text();
    public static string Player => Text();
    public static string CheckHead => Text();
    public static string ListTake => Text();
    public static string ListTooLarge => Text();
    public static string ListNoRoom => Text();
    public static string ListNotWritten => Text();

    /// <summary>What the countdown runs to.</summary>
    public static string UntilAct(string act, TimeOnly starts) => Filled("UntilActText", act, ShortClock(starts));

    /// <summary>Head of the column that compares with the act before.</summary>
    public static string DiffersFrom(string act) => Filled("DiffersFromText", act);

    /// <summary>How many inputs of an act are checked, and which are not.</summary>
    public static string CheckedOf(int heard, int wanted, IEnumerable<string> left) =>
        heard == wanted ? Filled("CheckedOfAll", wanted) : Filled("CheckedOfText", heard, wanted, string.Join(", ", left));

    /// <summary>Inputs that nobody uses any more.</summary>
    public static string Freed(IEnumerable<string> inputs) => Filled("FreedText", string.Join(", ", inputs));

    /// <summary>An input list was taken in, with or without remarks.</summary>
    public static string ListTaken(string act, int inputs, int problems) =>
        problems == 0 ? Filled("ListTakenText", act, inputs) : Filled("ListTakenWith", act, inputs, problems);

    /// <summary>Nothing in an input list could be used.</summary>
    public static string ListRefused(string file) => Filled("ListRefusedText", file);

    /// <summary>Where in an input list something is wrong.</summary>
    public static string ListPlace(int row, string? column) => column is null ? Filled("ListRow", row) : Filled("ListCell", row, column);

    /// <summary>How many trims of an act's last show are proposed.</summary>
    public static string RecallFound(int proposals) => proposals == 0 ? Filled("RecallFoundNone") : Filled("RecallFoundText", proposals);

    public static string ListMore(int count) => Filled("ListMoreText", count);
}
