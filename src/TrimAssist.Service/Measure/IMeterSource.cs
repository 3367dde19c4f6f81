using TrimAssist.Audio;
using TrimAssist.Core.Meters;

namespace TrimAssist.Service.Measure;

/// <summary>A file that meter readings come from: a log of a desk's meters, or a recording turned into what a desk would send.</summary>
internal interface IMeterSource
{
    /// <summary>How the meters behave.</summary>
    MeterTraits Traits { get; }

    /// <summary>What a pure tone shows between peak and RMS, dB: 0 where RMS follows AES17.</summary>
    double SineCrestDb { get; }

    /// <summary>The channels that play, lowest first.</summary>
    IReadOnlyList<int> Channels { get; }

    /// <summary>Length in seconds.</summary>
    double DurationS { get; }

    /// <summary>What the user should know, a sentence each; complete once <see cref="Play"/> has returned.</summary>
    IReadOnlyList<string> Warnings { get; }

    /// <summary>Tells every reading, in order of time.</summary>
    void Play(Action<MeterReading> tell);

    /// <summary>The highest peak of a channel in dBFS, whatever made it; known once <see cref="Play"/> has returned, <see langword="null"/> where none was read.</summary>
    double? HighestPeak(int channel);

    /// <summary>What the samples of a channel themselves say, where the file holds samples; known once <see cref="Play"/> has returned.</summary>
    ChannelMeasurement? Samples(int channel);
}
