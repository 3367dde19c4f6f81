using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Listening;

/// <summary>The three seconds with the most energy, pops excluded.</summary>
/// <param name="StartS">Start in the readings' time.</param>
/// <param name="EndS">End in the readings' time.</param>
/// <param name="Level">Mean energy of the passage as a level.</param>
/// <param name="Peak">Highest peak within it.</param>
public sealed record LoudestPassage(double StartS, double EndS, Dbfs Level, Dbfs Peak);

/// <summary>How much a prediction can be leaned on.</summary>
public enum Confidence
{
    /// <summary>Little was heard, or it was clipped: a start, ask for another pass.</summary>
    Low,

    /// <summary>Enough was heard for a usual interval.</summary>
    Medium,

    /// <summary>Much was heard, and the player or source is known.</summary>
    High,
}

/// <summary>Where the show's highest peak will lie at the check's trim.</summary>
/// <param name="Low">Lower end of the 90 % interval.</param>
/// <param name="Middle">The middle estimate.</param>
/// <param name="High">Upper end of the 90 % interval.</param>
/// <param name="Aim">The show peak to put on the target: the point between middle and high that keeps a show from clipping.</param>
/// <param name="Confidence">How much it can be leaned on.</param>
/// <param name="AllowanceDb">The dB added for what players hold back.</param>
/// <param name="GrowthDb">The dB added because a show is longer than a check.</param>
/// <param name="LowerBoundOnly">The converter clipped in the check: the true level is higher by an unknown amount.</param>
public sealed record ShowPrediction(
    Dbfs Low, Dbfs Middle, Dbfs High, Dbfs Aim, Confidence Confidence, double AllowanceDb, double GrowthDb, bool LowerBoundOnly);

/// <summary>Everything a check says about one input. Absent measurements are <see langword="null"/>.</summary>
/// <param name="Input">The desk input, from 1.</param>
/// <param name="ActiveS">Seconds of playing heard.</param>
/// <param name="NoiseFloor">The noise floor (RMS).</param>
/// <param name="Peak">Highest peak of the playing, artefacts excluded.</param>
/// <param name="Loudest">The loudest passage.</param>
/// <param name="SignalToNoise">Loudest passage over noise floor.</param>
/// <param name="Overloads">Number of overloads at the converter.</param>
/// <param name="FlatTop">An earlier stage clips.</param>
/// <param name="Prediction">The show's peak; <see langword="null"/> where too little was heard.</param>
/// <param name="Withheld">Why there is no prediction, as a sentence for the engineer; <see langword="null"/> where there is one.</param>
public sealed record InputReport(
    int Input,
    double ActiveS,
    Dbfs? NoiseFloor,
    Dbfs? Peak,
    LoudestPassage? Loudest,
    Decibels? SignalToNoise,
    int Overloads,
    bool FlatTop,
    ShowPrediction? Prediction,
    Saying? Withheld);
