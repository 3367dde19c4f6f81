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

    /// <summary>The true peak of a channel in dBTP, where the file holds samples; known once <see cref="Play"/> has returned.</summary>
    double? TruePeakDbtp(int channel);
}
