using System.Text;

namespace TrimAssist.Service.ChainFiles;

/// <summary>Writes a planned chain as a plain, aligned table with its advice below.</summary>
internal static class ChainTable
{
    private static readonly string[] Head = ["stage", "now", "best", "pad", "peak in", "peak out", "headroom", "noise out"];

    /// <summary>Writes the table; gains and headroom in dB, levels in dBu.</summary>
    public static string Of(ChainDocument document)
    {
        var text = new StringBuilder();
        text.AppendLine($"{document.File}: signal-to-noise now {Level(document.SnrDb.Now)}, best {Level(document.SnrDb.Best)} dB");
        if (document.Code is null)
            AddStages(text, document);
        else
            text.AppendLine($"No setting fits. These cannot hold together: {string.Join(", ", document.Limits!.Select(Limit))}.");
        if (document.Clips is { } clips)
            text.AppendLine($"When the source grows, the {clips.At} of {clips.Stage} clips first, after {clips.MarginDb:0.0} dB.");
        foreach (var sentence in document.Advice)
            text.AppendLine($"- {sentence}");
        foreach (var order in document.Orders ?? [])
            text.AppendLine($"- {order.Swap[1]} before {order.Swap[0]}: {Order(order, document.SnrDb.Best)}");
        return text.ToString();
    }

    private static void AddStages(StringBuilder text, ChainDocument document)
    {
        List<string[]> rows = [Head, .. document.Stages.Select(Row)];
        int[] widths = [.. Enumerable.Range(0, Head.Length).Select(column => rows.Max(row => row[column].Length))];
        foreach (var row in rows)
            text.AppendLine(string.Join("  ", row.Select((cell, column) => column == 0 ? cell.PadRight(widths[column]) : cell.PadLeft(widths[column]))));
    }

    private static string[] Row(StageDocument stage) =>
    [
        stage.Name, Setting(stage.NowDb), Setting(stage.GainDb), stage.PadOn switch { true => "in", false => "out", null => "-" },
        Level(stage.PeakInDbu), Level(stage.PeakOutDbu), Level(stage.HeadroomDb), Level(stage.NoiseOutDbu),
    ];

    private static string Limit(LimitDocument limit) =>
        limit.Stage is { } stage ? $"{stage}'s {limit.Key} ({limit.Value:0.###})" : $"{limit.Key} ({limit.Value:0.###})";

    private static string Order(OrderDocument order, double? best) => (order.Fits, order.SnrDb, best) switch
    {
        (false, _, _) => "no setting fits",
        (_, { } ratio, { } now) => $"{ratio:0.0} dB of signal-to-noise ({ratio - now:+0.0;-0.0;0.0} dB)",
        _ => "fits as well",
    };

    private static string Setting(double? value) => value is { } known ? $"{known:0.0##}" : "-";

    private static string Level(double? value) => value is { } known ? $"{known:0.0}" : "-";
}
