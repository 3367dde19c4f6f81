using TrimAssist.Audio;
using TrimAssist.Audio.Wav;
using TrimAssist.Core.Meters;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Measure;

/// <summary>A WAV recording, turned into what a desk's meters would have sent.</summary>
internal sealed class Recording : IMeterSource
{
    /// <summary>Length of the frames that a recording is cut into, in seconds.</summary>
    public const double FrameS = 0.05;

    private readonly string _path;
    private WavMeasurement? _measurement;

    private Recording(string path, int channels, double durationS) =>
        (_path, Channels, DurationS) = (path, [.. Enumerable.Range(1, channels)], durationS);

    /// <inheritdoc/>
    public MeterTraits Traits { get; } = new(FrameS, 0, MeterTap.Converter, FollowsMute: false);

    /// <inheritdoc/>
    public double SineCrestDb => 0;

    /// <inheritdoc/>
    public IReadOnlyList<int> Channels { get; }

    /// <inheritdoc/>
    public double DurationS { get; }

    /// <inheritdoc/>
    public IReadOnlyList<string> Warnings => _measurement?.Warnings ?? [];

    /// <summary>Looks at a recording's header.</summary>
    /// <exception cref="UsageException">It cannot be read.</exception>
    public static Recording Open(string path)
    {
        if (!WavFile.TryOpen(path, out var file, out var error))
            throw new UsageException($"{path}: {error.Reason}");
        using (file)
            return new Recording(path, file.Format.Channels, file.DurationS);
    }

    /// <inheritdoc/>
    public void Play(Action<MeterReading> tell)
    {
        if (!WavMeasurement.TryRead(_path, Traits, tell, out _measurement, out var error))
            throw new UsageException($"{_path}: {error.Reason}");
    }

    /// <inheritdoc/>
    public double? HighestPeak(int channel) => Samples(channel)?.SamplePeak.Value;

    /// <inheritdoc/>
    public ChannelMeasurement? Samples(int channel) => _measurement?.Channels[channel - 1];
}
