using System.Globalization;
using TrimAssist.Core.Meters;

namespace TrimAssist.Service.Measure;

/// <summary>Reads one row of a meter log.</summary>
internal static class MeterLogRow
{
    /// <summary>The header that every meter log begins with.</summary>
    public const string Header = "time_s,channel,peak_dbfs,rms_dbfs";

    /// <summary>Highest channel number that is believed.</summary>
    public const int MostChannels = 4096;

    private const double HighestDbfs = 120;

    /// <summary>Reads the row; says in a few words what is wrong with it, or returns <see langword="null"/>.</summary>
    public static string? Read(ReadOnlySpan<char> line, out MeterReading reading)
    {
        reading = default;
        Span<Range> fields = stackalloc Range[5];
        var count = line.Split(fields, ',');
        if (count is < 3 or > 4)
            return count < 3 ? $"has {count} fields, not 4" : "has more than 4 fields";
        if (!double.TryParse(line[fields[0]], NumberStyles.Float, CultureInfo.InvariantCulture, out var time) || !double.IsFinite(time) || time < 0)
            return "time_s is no time";
        if (!int.TryParse(line[fields[1]], NumberStyles.Integer, CultureInfo.InvariantCulture, out var channel) || channel is < 1 or > MostChannels)
            return $"channel is not 1 to {MostChannels}";
        if (!TryLevel(line[fields[2]], out var peak))
            return "peak_dbfs is no level";
        var rms = float.NaN;
        if (count == 4 && !TryLevel(line[fields[3]], out rms))
            return "rms_dbfs is no level";
        if (float.IsNaN(peak) && float.IsNaN(rms))
            return "holds no level";
        reading = new MeterReading(channel, time, peak, rms);
        return null;
    }

    private static bool TryLevel(ReadOnlySpan<char> field, out float level)
    {
        var text = field.Trim();
        level = float.NaN;
        if (text.IsEmpty)
            return true;
        if (text.Equals("-inf", StringComparison.OrdinalIgnoreCase) || text.Equals("-infinity", StringComparison.OrdinalIgnoreCase))
        {
            level = float.NegativeInfinity;
            return true;
        }

        return float.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out level) && level <= HighestDbfs;
    }
}
