namespace TrimAssist.Core.Wording;

/// <summary>What happened and what to do.</summary>
internal static class AlarmSayings
{
    public static Saying AlarmPop { get; } = Saying.Of($"A plug was pulled or pushed. Mute it before it is touched again.");
    public static Saying AlarmPopMuted { get; } = Saying.Of($"A plug was pulled or pushed behind the mute.");
    public static Saying AlarmRing { get; } = Saying.Of($"Feedback is building up. Bring it down.");
    public static Saying AlarmStepUp { get; } = Saying.Of($"It jumped up and stayed: a pad out, a switch or a boost. Look at the fader.");
    public static Saying AlarmCrackle { get; } = Saying.Of($"Crackle: a bad cable or connector. Have it changed.");
    public static Saying AlarmOverload { get; } = Saying.Of($"The input clips. Bring the trim down, or the source.");
    public static Saying AlarmDropout { get; } = Saying.Of($"The signal vanished while playing. Cable, pack or battery?");
    public static Saying AlarmStepDown { get; } = Saying.Of($"It jumped down and stayed: a pad in or a switch.");
    public static Saying AlarmFlatTop { get; } = Saying.Of($"Clipped before the desk. Turn an earlier stage down; the trim cannot mend it.");
    public static Saying AlarmHot { get; } = Saying.Of($"Louder than the check foretold. Bring the trim down a little between songs.");
    public static Saying AlarmNoise { get; } = Saying.Of($"The noise floor rose. Hum, a gain, or a mains lead?");
    public static Saying AlarmStale { get; } = Saying.Of($"The desk's meters stopped. Nothing is watched while they are away.");
    public static Saying AlarmStaleWhy(Saying why) => Saying.Of($"{why} Nothing is watched while meters are missing.");
    public static Saying AlarmMoved { get; } = Saying.Of($"Somebody moved a value at the desk.");
    public static Saying AlarmMovedFromTo(Saying was, Saying now) => Saying.Of($"Somebody moved what was set here: from {was} to {now}.");
    public static Saying AlarmOpened { get; } = Saying.Of($"Opened while somebody on stage may hold its plug. Mute it.");
    public static Saying AlarmTakenBack { get; } = Saying.Of($"Taken back: it was playing.");
}
