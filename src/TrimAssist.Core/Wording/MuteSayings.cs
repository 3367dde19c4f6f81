namespace TrimAssist.Core.Wording;

/// <summary>Why a mute is proposed, or an input is to be opened again.</summary>
internal static class MuteSayings
{
    public static Saying MutePop(double sizeDb) => Saying.Of($"A pop of {sizeDb:0} dB: mute before the plug is touched again.");
    public static Saying MuteFirst { get; } = Saying.Of($"Mute first, so that the change is not heard at once.");
    public static Saying MuteAsked(string reason) => Saying.Of($"The stage asks for a safe patch: {reason}");
    public static Saying MuteAskedPlain { get; } = Saying.Of($"The stage asks for a safe patch.");

    public static Saying PatchOpen(Saying heard) => Saying.Of($"The plug is changed and the input has settled. {heard} Bring the fader down first.");
    public static Saying PatchHotter(double byDb) => Saying.Of($"It plays {byDb:0} dB hotter than before the patch: trim down before it is opened.");
    public static Saying PatchNoiseUp(double byDb) => Saying.Of($"The noise floor is {byDb:0} dB higher than before: a pad or DI switch, a mains lead, or another instrument?");
    public static Saying PatchNoiseDown(double byDb) => Saying.Of($"The noise floor is {byDb:0} dB lower than before: a pad or DI switch, a mains lead, or another instrument?");
    public static Saying PatchLevelUp(double byDb) => Saying.Of($"It plays {byDb:0} dB higher than before: a pad or DI switch, or another instrument?");
    public static Saying PatchLevelDown(double byDb) => Saying.Of($"It plays {byDb:0} dB lower than before: a pad or DI switch, or another instrument?");
    public static Saying PatchNotCompared { get; } = Saying.Of($"Nothing could be compared with before: check it before the fader goes up.");
    public static Saying PatchAsBefore { get; } = Saying.Of($"It sounds as before.");
    public static Saying PatchUnheard { get; } = Saying.Of($"The meters follow the mute: nothing could be heard. Bring the fader down first.");

    public static Saying PhantomOn { get; } = Saying.Of($"Phantom power is on: have it switched off at the desk and wait before you plug.");
    public static Saying PhantomUnknown { get; } = Saying.Of($"The desk does not say whether phantom power is on: ask before you plug.");
}
