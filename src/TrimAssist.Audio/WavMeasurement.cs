using System.Diagnostics.CodeAnalysis;
using TrimAssist.Audio.Levels;
using TrimAssist.Audio.Loudness;
using TrimAssist.Audio.MeterModel;
using TrimAssist.Audio.Wav;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio;

/// <summary>What a recording holds, channel by channel.</summary>
/// <param name="SampleRate">Samples per second.</param>
/// <param name="DurationS">Length in seconds.</param>
/// <param name="Channels">The channels, the first being input 1.</param>
/// <param name="Warnings">What the user should know, a sentence each.</param>
public sealed record WavMeasurement(int SampleRate, double DurationS, IReadOnlyList<ChannelMeasurement> Channels, IReadOnlyList<string> Warnings)
{
    /// <summary>Reads a recording once, in blocks, telling each meter reading on the way; never throws for what the file holds.</summary>
    /// <param name="path">The WAV file.</param>
    /// <param name="traits">How often and in which manner readings are told.</param>
    /// <param name="tell">Hears the readings, frame after frame and within a frame input after input.</param>
    /// <param name="measurement">The result.</param>
    /// <param name="error">Why there is none.</param>
    public static bool TryRead(
        string path,
        MeterTraits traits,
        Action<MeterReading> tell,
        [NotNullWhen(true)] out WavMeasurement? measurement,
        [NotNullWhen(false)] out WavError? error)
    {
        measurement = null;
        if (!WavFile.TryOpen(path, out var file, out error))
            return false;
        using (file)
        {
            try
            {
                measurement = Of(file, traits, tell);
            }
            catch (IOException e)
            {
                error = WavFile.Unreadable(e);
            }
        }

        return measurement is not null;
    }

    /// <summary>Reads an open recording from where it stands to its end.</summary>
    /// <exception cref="IOException">The system could not read on.</exception>
    public static WavMeasurement Of(WavFile file, MeterTraits traits, Action<MeterReading> tell)
    {
        ArgumentNullException.ThrowIfNull(file);
        var channels = file.Format.Channels;
        var meters = new DeskMeters(traits, file.Format.SampleRate, channels);
        var loudness = LoudnessMeter.OfEachChannel(file.Format.SampleRate, channels);
        TruePeakMeter[] truePeaks = [.. Enumerable.Range(0, channels).Select(_ => new TruePeakMeter())];
        var levels = new LevelAccumulator[channels];
        var block = file.NewBlock();
        while (file.Read(block))
        {
            meters.Hear(block, tell);
            loudness.Hear(block);
            for (var channel = 0; channel < channels; channel++)
            {
                levels[channel].Hear(block.Channel(channel));
                truePeaks[channel].Hear(block.Channel(channel));
            }
        }

        meters.Finish(tell);
        return new(
            file.Format.SampleRate,
            file.DurationS,
            [.. levels.Select((level, channel) => ChannelMeasurement.Of(level, truePeaks[channel], loudness.Programmes[channel]))],
            [.. WarningsOf(file)]);
    }

    private static IEnumerable<string> WarningsOf(WavFile file)
    {
        if (file.Repair is { } repair)
            yield return repair;
        if (file.Unbelievable > 0)
            yield return $"{file.Unbelievable} samples are no numbers or beyond +120 dBFS; they were read as silence.";
    }
}
