namespace TrimAssist.Core.Alarms;

/// <summary>What an alarm kind asks of the engineer, and how long its condition is held after it was last seen.</summary>
/// <param name="Priority">How soon to act.</param>
/// <param name="OffDelay">
/// How long the condition must stay away before the alarm returns. Every kind here calls for action on its first sight,
/// so all have an off-delay and none has an on-delay.
/// </param>
/// <param name="Text">What happened and what to do.</param>
public sealed record AlarmRule(AlarmPriority Priority, TimeSpan OffDelay, string Text)
{
    /// <summary>Whether it is over as soon as it is seen: what comes after it is another one.</summary>
    public bool IsMomentary { get; private init; }

    /// <summary>The rule of a kind.</summary>
    public static AlarmRule Of(AlarmKind kind) => kind switch
    {
        AlarmKind.Pop => new(AlarmPriority.High, Seconds(3), "A plug was pulled or pushed. Mute it before it is touched again.") { IsMomentary = true },
        AlarmKind.Ring => new(AlarmPriority.High, Seconds(2), "Feedback is building up. Bring it down."),
        AlarmKind.StepUp => new(AlarmPriority.High, Seconds(3), "It jumped up and stayed: a pad out, a switch or a boost. Look at the fader.") { IsMomentary = true },
        AlarmKind.Crackle => new(AlarmPriority.Medium, Seconds(10), "Crackle: a bad cable or connector. Have it changed."),
        AlarmKind.Overload => new(AlarmPriority.Medium, Seconds(5), "The input clips. Bring the trim down, or the source."),
        AlarmKind.Dropout => new(AlarmPriority.Medium, Seconds(2), "The signal vanished while playing. Cable, pack or battery?"),
        AlarmKind.StepDown => new(AlarmPriority.Low, Seconds(3), "It jumped down and stayed: a pad in or a switch.") { IsMomentary = true },
        AlarmKind.FlatTop => new(AlarmPriority.Low, Seconds(30), "Clipped before the desk. Turn an earlier stage down; the trim cannot mend it."),
        AlarmKind.Hot => new(AlarmPriority.Medium, Seconds(20), "Louder than the check foretold. Bring the trim down a little between songs."),
        AlarmKind.NoiseRise => new(AlarmPriority.Low, Seconds(30), "The noise floor rose. Hum, a gain, or a mains lead?"),
        AlarmKind.DeskStale => new(AlarmPriority.High, Seconds(0), "The desk's meters stopped. Nothing is watched until they come back."),
        AlarmKind.ValueMoved => new(AlarmPriority.Low, Seconds(0), "Somebody moved a value at the desk.") { IsMomentary = true },
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "not a kind of alarm"),
    };

    private static TimeSpan Seconds(double seconds) => TimeSpan.FromSeconds(seconds);
}
