using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Units;
using TrimAssist.Service.Hosting;

namespace TrimAssist.Service.Measure;

/// <summary>Measures one file with the listeners that the service uses on a live desk.</summary>
internal static class FileMeasurer
{
    /// <summary>Measures a meter log or a recording.</summary>
    /// <exception cref="UsageException">The file is neither, or holds nothing usable.</exception>
    public static MeasureDocument Measure(string path, MeasureOptions options)
    {
        var source = Open(path);
        var listeners = source.Channels.ToDictionary(channel => channel, channel => new LevelListener(channel, source.Traits));
        source.Play(reading => listeners[reading.Input].Observe(reading));
        var report = new ReportOptions { Target = new Dbfs(options.TargetDbfs), Allowance = new Decibels(options.AllowanceDb) };
        return new MeasureDocument(
            path,
            Math.Round(source.DurationS, 3),
            Math.Round(source.Traits.FrameS * 1000, 3),
            options.TargetDbfs,
            source.Warnings,
            [.. source.Channels.Select(channel => DocumentWriter.Channel(listeners[channel].Report(report), source.TruePeakDbtp(channel), [], options))]);
    }

    private static IMeterSource Open(string path)
    {
        if (!File.Exists(path))
            throw new UsageException($"{path}: there is no such file");
        return MeterLog.Open(path);
    }
}
