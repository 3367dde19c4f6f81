using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Alarms;

/// <summary>What an alarm kind asks of the engineer, and how long its condition is held after it was last seen.</summary>
/// <param name="Priority">How soon to act.</param>
/// <param name="OffDelay">
/// How long the condition must stay away before the alarm returns. Every kind here calls for action on its first sight,
/// so all have an off-delay and none has an on-delay.
/// </param>
/// <param name="Text">What happened and what to do.</param>
public sealed record AlarmRule(AlarmPriority Priority, TimeSpan OffDelay, Saying Text)
{
    /// <summary>Whether it is over as soon as it is seen: what comes after it is another one.</summary>
    public bool IsMomentary { get; private init; }

    /// <summary>The rule of a kind.</summary>
    public static AlarmRule Of(AlarmKind kind) => kind switch
    {
        AlarmKind.Pop => new(AlarmPriority.High, Seconds(3), AlarmSayings.AlarmPop) { IsMomentary = true },
        AlarmKind.Ring => new(AlarmPriority.High, Seconds(2), AlarmSayings.AlarmRing),
        AlarmKind.StepUp => new(AlarmPriority.High, Seconds(3), AlarmSayings.AlarmStepUp) { IsMomentary = true },
        AlarmKind.Crackle => new(AlarmPriority.Medium, Seconds(10), AlarmSayings.AlarmCrackle),
        AlarmKind.Overload => new(AlarmPriority.Medium, Seconds(5), AlarmSayings.AlarmOverload),
        AlarmKind.Dropout => new(AlarmPriority.Medium, Seconds(2), AlarmSayings.AlarmDropout),
        AlarmKind.StepDown => new(AlarmPriority.Low, Seconds(3), AlarmSayings.AlarmStepDown) { IsMomentary = true },
        AlarmKind.FlatTop => new(AlarmPriority.Low, Seconds(30), AlarmSayings.AlarmFlatTop),
        AlarmKind.Hot => new(AlarmPriority.Medium, Seconds(20), AlarmSayings.AlarmHot),
        AlarmKind.NoiseRise => new(AlarmPriority.Low, Seconds(30), AlarmSayings.AlarmNoise),
        AlarmKind.DeskStale => new(AlarmPriority.High, Seconds(0), AlarmSayings.AlarmStale),
        AlarmKind.ValueMoved => new(AlarmPriority.Low, Seconds(0), AlarmSayings.AlarmMoved) { IsMomentary = true },
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "not a kind of alarm"),
    };

    private static TimeSpan Seconds(double seconds) => TimeSpan.FromSeconds(seconds);
}
