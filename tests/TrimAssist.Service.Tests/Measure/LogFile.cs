using System.Globalization;
using System.Text;
using TrimAssist.Service.Measure;

namespace TrimAssist.Service.Tests.Measure;

/// <summary>Writes a meter log, row by row, and has it measured.</summary>
internal sealed class LogFile
{
    private readonly StringBuilder _text = new("time_s,channel,peak_dbfs,rms_dbfs\n");

    /// <summary>One row as it stands.</summary>
    public LogFile Row(string row)
    {
        _text.Append(row).Append('\n');
        return this;
    }

    /// <summary>One reading.</summary>
    public LogFile Row(double timeS, int channel, double peak, double? rms = null) => Row(string.Create(
        CultureInfo.InvariantCulture, $"{timeS:0.000},{channel},{peak:0.00},{(rms ?? peak - 9):0.00}"));

    /// <summary>Frames of 50 ms on one channel.</summary>
    public LogFile Frames(double fromS, double untilS, Func<double, double> peak, int channel = 1)
    {
        for (var frame = (int)Math.Round(fromS * 20) + 1; frame <= Math.Round(untilS * 20); frame++)
            Row(frame / 20.0, channel, peak(frame / 20.0));
        return this;
    }

    /// <summary>Forty seconds of notes, one each second, 30 dB over a noise at -75 dBFS.</summary>
    public LogFile Notes(double fromS = 0, double untilS = 40, int channel = 1) =>
        Frames(fromS, untilS, t => Math.Max(-30 - (25 * (t % 1)) + (Math.Floor(t) % 7 / 2), -75 + (t * 7919 % 1)), channel);

    /// <summary>What <c>measure</c> says about it.</summary>
    public MeasureDocument Measure()
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, _text.ToString());
            return FileMeasurer.Measure(path, new MeasureOptions(-12, 4, 0.1));
        }
        finally
        {
            File.Delete(path);
        }
    }
}
