namespace TrimAssist.Core.Wording;

/// <summary>What a check has to say about an input for which it proposes nothing, or beside what it proposes.</summary>
internal static class CheckSayings
{
    public static Saying CheckStill { get; } = Saying.Of($"the meter stood still");
    public static Saying CheckNothing { get; } = Saying.Of($"heard no playing");
    public static Saying CheckQuiet(double quietestDbfs) => Saying.Of($"heard nothing above {quietestDbfs:0} dBFS");
    public static Saying CheckMore(double heardS, double wantedS) => Saying.Of($"heard {heardS:0} s of playing, want {wantedS:0}");
    public static Saying CheckNewer { get; } = Saying.Of($"A newer check took these inputs.");
    public static Saying CheckBySound { get; } = Saying.Of($"It began by itself with the first sound after silence.");
    public static Saying CheckByClock { get; } = Saying.Of($"It began by itself, at the time that was set.");
    public static Saying CheckUnknown { get; } = Saying.Of($"The desk has not said where this control stands.");
    public static Saying CheckPatched { get; } = Saying.Of($"A safe patch is under way: check it again after it.");
    public static Saying CheckNoTrim(Saying role) => Saying.Of($"no trim is proposed for {role}");
    public static Saying CheckEven(double underDb) => Saying.Of($"{underDb:0.#} dB under what its headroom allows, to even the faders.");
}
