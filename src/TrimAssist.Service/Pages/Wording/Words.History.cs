namespace TrimAssist.Service.Pages.Wording;

// Words of the history view.
internal static partial class Words
{
    private static readonly int[] SpansMinutes = [2, 10, 30];
    public static string Earlier => Text();
    public static string Later => Text();
    public static string ToNow => Text();
    public static string Chart => Text();
    public static string Floor => Text();
    public static string Target => Text();
    public static string LegendPeak => Text();
    public static string LegendRms => Text();
    public static string LegendMoved => Text();
    public static string LegendEvent => Text();

    /// <summary>How much of the past the history view shows, in seconds.</summary>
    public static IReadOnlyList<(int Seconds, string Called)> Spans =>
        [.. SpansMinutes.Select(minutes => (minutes * 60, Filled("SpanMinutes", minutes))), (3600, Filled("SpanHours", 1)), (7200, Filled("SpanHours", 2))];

    /// <summary>What is kept: nothing from before the service began.</summary>
    public static string HistoryKept(DateTimeOffset began) => Filled("HistoryKeptSince", Clock(began));

    /// <summary>A chart in words.</summary>
    public static string ChartDescribed(double? peak, double? floor, double target, int alarms, int changes) =>
        Filled("ChartDescribed", Said(peak), Said(floor), Round(target), alarms, changes);
}
