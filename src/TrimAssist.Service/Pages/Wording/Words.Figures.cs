using System.Globalization;

namespace TrimAssist.Service.Pages.Wording;

// Figures and times as the page writes them: alike in every language.
internal static partial class Words
{
    /// <summary>A level, gain or difference with its sign, a true minus and one decimal; a dash where nothing is known.</summary>
    public static string Db(double? db) => db is { } value && double.IsFinite(value) ? value.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture) : "–";

    /// <summary>The same without a needless decimal.</summary>
    public static string Round(double db) => db.ToString("+0.#;−0.#;0", CultureInfo.InvariantCulture);

    /// <summary>A size that has no direction.</summary>
    public static string Size(double db) => Math.Abs(db).ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A countdown, to the second.</summary>
    public static string Countdown(TimeSpan left) => left >= TimeSpan.FromHours(1)
        ? Filled("CountdownHours", (int)left.TotalHours, left.Minutes, left.Seconds)
        : Filled("CountdownText", left.Minutes, left.Seconds);

    /// <summary>A time of the running order.</summary>
    public static string ShortClock(TimeOnly time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A time of day.</summary>
    public static string Clock(DateTimeOffset time) => time.ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    private static string Said(double? db) => db is { } value && double.IsFinite(value) ? Db(value) : Text("Unread");
}
