using TrimAssist.Audio;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;

namespace TrimAssist.Service.Measure;

/// <summary>Turns what a listener says about an input into the contract's words.</summary>
internal static class DocumentWriter
{
    /// <summary>Writes one channel down.</summary>
    public static ChannelDocument Channel(InputReport report, double? highestPeak, ChannelMeasurement? samples, IReadOnlyList<EventDocument> events, MeasureOptions options) => new()
    {
        Channel = report.Input,
        ActiveS = Math.Round(report.ActiveS, 2),
        NoiseFloorDbfs = Level(report.NoiseFloor?.Value),
        PeakDbfs = Level(highestPeak),
        TruePeakDbtp = Level(samples?.TruePeak.Value),
        IntegratedLufs = Level(samples?.IntegratedLufs),
        MomentaryMaxLufs = Level(samples?.MomentaryMaxLufs),
        ShortTermMaxLufs = Level(samples?.ShortTermMaxLufs),
        LoudnessRangeLu = Level(samples?.RangeLu),
        LoudestPassage = report.Loudest is { } loudest
            ? new PassageDocument(Math.Round(loudest.StartS, 3), Math.Round(loudest.EndS, 3), Rounded(loudest.Level.Value), Rounded(loudest.Peak.Value))
            : null,
        SignalToNoiseDb = Level(report.SignalToNoise?.Value),
        Overloads = report.Overloads,
        FlatTop = report.FlatTop,
        PredictedShowPeakDbfs = Level(report.Prediction?.Middle.Value),
        PredictedLowDbfs = Level(report.Prediction?.Low.Value),
        PredictedHighDbfs = Level(report.Prediction?.High.Value),
        Proposal = report.Prediction is { } prediction ? Proposal(report, prediction, options) : null,
        Withheld = report.Withheld,
        Events = events,
    };

    private static ProposalDocument Proposal(InputReport report, ShowPrediction prediction, MeasureOptions options) => new(
        TrimGrid.StepDown((new Dbfs(options.TargetDbfs) - prediction.Aim).Value, options.StepDb),
        prediction.Confidence switch { Confidence.Low => "low", Confidence.Medium => "medium", _ => "high" },
        Reason(report, prediction));

    private static string Reason(InputReport report, ShowPrediction prediction)
    {
        var heard = $"heard {report.ActiveS:0} s of playing up to {report.Peak!.Value.Value:0.0} dBFS; {prediction.AllowanceDb:0.0} dB for what players hold back, {prediction.GrowthDb:0.0} dB because a show is longer";
        if (prediction.LowerBoundOnly)
            heard += "; the converter clipped, so the true level is higher: step down and ask for another pass";
        return report.FlatTop ? heard + "; an earlier stage clips, which trim does not cure" : heard;
    }

    private static double Rounded(double level) => Math.Round(level, 2);

    private static double? Level(double? level) => level is { } value && double.IsFinite(value) ? Rounded(value) : null;
}
