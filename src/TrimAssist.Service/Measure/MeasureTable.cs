using System.Text;

namespace TrimAssist.Service.Measure;

/// <summary>Writes a measured file as a plain, aligned table.</summary>
internal static class MeasureTable
{
    private static readonly string[] Head = ["ch", "active s", "floor", "loudest 3 s", "peak", "true peak", "LUFS", "show peak", "90 %", "trim", "sure", "notes"];

    /// <summary>Writes the table; levels in dBFS, the trim as a change in dB.</summary>
    public static string Of(MeasureDocument document)
    {
        List<string[]> rows = [Head, .. document.Channels.Select(Row)];
        int[] widths = [.. Enumerable.Range(0, Head.Length).Select(column => rows.Max(row => row[column].Length))];
        var text = new StringBuilder();
        text.AppendLine($"{document.File}: {document.DurationS:0.0} s, frames of {document.FrameMs:0.###} ms, target {document.TargetPeakDbfs:0.0} dBFS");
        foreach (var warning in document.Warnings)
            text.AppendLine($"  warning: {warning}");
        foreach (var row in rows)
            text.AppendLine(string.Join("  ", row.Select((cell, column) => column == Head.Length - 1 ? cell : cell.PadLeft(widths[column]))).TrimEnd());
        return text.ToString();
    }

    private static string[] Row(ChannelDocument channel) =>
    [
        $"{channel.Channel}", $"{channel.ActiveS:0.0}", Level(channel.NoiseFloorDbfs), Level(channel.LoudestPassage?.LevelDbfs), Level(channel.PeakDbfs),
        Level(channel.TruePeakDbtp), Level(channel.IntegratedLufs), Level(channel.PredictedShowPeakDbfs),
        channel.PredictedLowDbfs is null ? "-" : $"{Level(channel.PredictedLowDbfs)} to {Level(channel.PredictedHighDbfs)}",
        channel.Proposal is { } proposal ? $"{proposal.TrimChangeDb:+0.0;-0.0;0.0}" : "-",
        channel.Proposal?.Confidence ?? "-",
        Notes(channel),
    ];

    private static string Level(double? level) => level is { } value ? $"{value:0.0}" : "-";

    private static string Notes(ChannelDocument channel)
    {
        List<string> notes = [];
        if (channel.Withheld is { } withheld)
            notes.Add(withheld);
        if (channel.Overloads > 0)
            notes.Add($"{channel.Overloads} overloads");
        if (channel.FlatTop)
            notes.Add("flat-top");
        notes.AddRange(channel.Events.GroupBy(found => found.Kind, StringComparer.Ordinal).Select(kind => $"{kind.Key} x{kind.Count()}"));
        return string.Join(", ", notes);
    }
}
