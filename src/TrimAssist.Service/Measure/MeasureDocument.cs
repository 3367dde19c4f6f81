using System.Text.Json.Serialization;

namespace TrimAssist.Service.Measure;

/// <summary>The JSON that <c>measure</c> prints for one file. Absent measurements are <see langword="null"/>.</summary>
internal sealed record MeasureDocument(
    string File, double DurationS, double FrameMs, double TargetPeakDbfs, IReadOnlyList<string> Warnings, IReadOnlyList<ChannelDocument> Channels);

/// <summary>One channel of a file.</summary>
internal sealed record ChannelDocument
{
    public required int Channel { get; init; }

    public double ActiveS { get; init; }

    public double? NoiseFloorDbfs { get; init; }

    /// <summary>The highest peak of all, bangs included; the loudest passage has its own, free of them.</summary>
    public double? PeakDbfs { get; init; }

    public double? TruePeakDbtp { get; init; }

    /// <summary>Gated loudness of the channel by itself (ITU-R BS.1770-5), for recordings; the loudest 0.4 s and 3 s, and the range (EBU Tech 3342).</summary>
    public double? IntegratedLufs { get; init; }

    public double? MomentaryMaxLufs { get; init; }

    public double? ShortTermMaxLufs { get; init; }

    public double? LoudnessRangeLu { get; init; }

    public PassageDocument? LoudestPassage { get; init; }

    public double? SignalToNoiseDb { get; init; }

    public int Overloads { get; init; }

    public bool FlatTop { get; init; }

    public double? PredictedShowPeakDbfs { get; init; }

    public double? PredictedLowDbfs { get; init; }

    public double? PredictedHighDbfs { get; init; }

    public ProposalDocument? Proposal { get; init; }

    public string? Withheld { get; init; }

    public IReadOnlyList<EventDocument> Events { get; init; } = [];
}

/// <summary>The loudest passage.</summary>
internal sealed record PassageDocument(double StartS, double EndS, double LevelDbfs, double PeakDbfs);

/// <summary>A proposed change of trim.</summary>
internal sealed record ProposalDocument(double TrimChangeDb, string Confidence, string Reason);

/// <summary>Something found in the meters.</summary>
internal sealed record EventDocument(double TimeS, string Kind, double? SizeDb);

/// <summary>Writes the documents.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true)]
[JsonSerializable(typeof(MeasureDocument))]
[JsonSerializable(typeof(IReadOnlyList<MeasureDocument>))]
internal sealed partial class MeasureJson : JsonSerializerContext;
