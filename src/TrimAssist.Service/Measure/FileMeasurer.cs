using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Units;
using TrimAssist.Service.Failures;

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
        var stage = new StageListener(source.Channels[^1], new JumpOptions(source.Traits) { SineCrestDb = source.SineCrestDb });
        var (found, findings) = (new FindingRing(), new FindingCollector());
        source.Play(reading =>
        {
            listeners[reading.Input].Observe(reading);
            stage.Observe(reading, found);
            findings.Drain(found);
        });
        foreach (var (channel, listener) in listeners)
            findings.CutOut(channel, listener);
        var report = new ReportOptions { Target = new Dbfs(options.TargetDbfs), Allowance = new Decibels(options.AllowanceDb) };
        return new MeasureDocument(
            path,
            Math.Round(source.DurationS, 3),
            Math.Round(source.Traits.FrameS * 1000, 3),
            options.TargetDbfs,
            source.Warnings,
            [.. source.Channels.Select(channel => DocumentWriter.Channel(
                listeners[channel].Report(report), source.HighestPeak(channel), source.Samples(channel), findings.Events(channel), options))]);
    }

    private static IMeterSource Open(string path)
    {
        if (!File.Exists(path))
            throw new UsageException($"{path}: there is no such file");
        return IsWav(path) ? Recording.Open(path) : MeterLog.Open(path);
    }

    private static bool IsWav(string path)
    {
        Span<byte> start = stackalloc byte[4];
        using var file = File.OpenRead(path);
        // RF64 and BW64 are WAV beyond 4 GiB (ITU-R BS.2088)
        return file.ReadAtLeast(start, 4, throwOnEndOfStream: false) == 4
            && (start.SequenceEqual("RIFF"u8) || start.SequenceEqual("RF64"u8) || start.SequenceEqual("BW64"u8));
    }
}
