namespace TrimAssist.Core.Alarms;

/// <summary>Why a kind of alarm exists. After IEC 62682 an alarm without a cause, a consequence and something to do in time is none.</summary>
/// <param name="Cause">What is behind it.</param>
/// <param name="Consequence">What happens when nobody acts.</param>
/// <param name="Action">What the engineer does.</param>
/// <param name="TimeToAct">How long there is: what the priority follows from.</param>
public sealed record AlarmRationale(string Cause, string Consequence, string Action, string TimeToAct)
{
    /// <summary>The rationale of a kind.</summary>
    public static AlarmRationale Of(AlarmKind kind) => kind switch
    {
        AlarmKind.Pop => new("a plug pulled or pushed on an open input", "the next touch bangs again in loudspeakers and ears", "mute the input", "seconds"),
        AlarmKind.Ring => new("feedback building up", "it howls and can hurt ears and loudspeakers", "bring it down", "seconds"),
        AlarmKind.StepUp => new("a pad out, a switch or a boost", "everything after it is that much louder", "bring the fader or the trim down", "seconds"),
        AlarmKind.DeskStale => new("the network, the desk or its meters stopped", "nothing is watched", "look at the link, watch the desk by eye", "seconds"),
        AlarmKind.Crackle => new("a bad cable or connector", "it gets worse and may end in a bang", "have the cable changed", "the song"),
        AlarmKind.Overload => new("the level reaches the converter's full scale", "it is heard as distortion", "bring the trim or the source down", "the song"),
        AlarmKind.Dropout => new("cable, pack or battery", "the input is missing from the mix", "ask the stage", "the song"),
        AlarmKind.Hot => new("the player is louder than the check foretold", "it will clip in the loudest moment", "bring the trim down between songs", "the song"),
        AlarmKind.StepDown => new("a pad in or a switch", "the input is too soft", "look at it when there is time", "the act"),
        AlarmKind.FlatTop => new("a stage before the desk clips", "it sounds hard, and the trim cannot mend it", "have an earlier stage turned down", "the act"),
        AlarmKind.NoiseRise => new("hum, a gain, or a mains lead", "it is heard in quiet places", "look for it between songs", "the act"),
        AlarmKind.ValueMoved => new("somebody moved a value that was set here", "what was measured no longer holds", "ask who it was, check again", "the act"),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "not a kind of alarm"),
    };
}
