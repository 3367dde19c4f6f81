namespace TrimAssist.Core.Wording;

/// <summary>Why a trim or a pad is proposed, or is not.</summary>
internal static class TrimSayings
{
    public static Saying TrimExpectedDown(string peak, double trimDb, Saying heard, string target) => Saying.Of($"Show peak expected at {peak} dBFS with {trimDb:0.#} dB of trim{heard}: down to land near {target}.");
    public static Saying TrimExpectedUp(string peak, double trimDb, Saying heard, string target) => Saying.Of($"Show peak expected at {peak} dBFS with {trimDb:0.#} dB of trim{heard}: up to land near {target}.");
    public static Saying TrimHeard(string peak) => Saying.Of($" (check peak {peak})");
    public static Saying TrimClipped(double trimDb) => Saying.Of($"It clipped in the check with {trimDb:0.#} dB of trim, so its true level is not known: down, then another pass.");
    public static Saying TrimClippedAfter { get; } = Saying.Of($"It clipped in the check, so the true level is not known: ask for another pass after this.");
    public static Saying TrimRight { get; } = Saying.Of($"The trim is right as it is.");
    public static Saying TrimNotUp { get; } = Saying.Of($"Could go up, but no increase is proposed during the show.");
    public static Saying TrimTop(double endDb, double missingDb) => Saying.Of($"The trim ends at {endDb:0.#} dB: turn the source up by about {missingDb:0} dB.");
    public static Saying TrimBottom(double endDb, double tooMuchDb) => Saying.Of($"The trim ends at {endDb:0.#} dB: turn the source down by about {tooMuchDb:0} dB.");
    public static Saying TrimNone { get; } = Saying.Of($"This desk's profile has no trim to set.");
    public static Saying TrimWarnOnly { get; } = Saying.Of($"The profile does not say that the meters read the preamp: warnings only.");
    public static Saying TrimUnread { get; } = Saying.Of($"The desk has not said where the trim stands.");
    public static Saying TrimPair { get; } = Saying.Of($"The two halves of the pair have different trims; set them alike first.");

    public static Saying PadHot { get; } = Saying.Of($"Too hot for the lowest trim: the pad has to go in.");
    public static Saying PadHotLater { get; } = Saying.Of($"Too hot for the lowest trim: the pad has to go in, between songs.");
    public static Saying PadLeft { get; } = Saying.Of($"The pad is in while the trim is near its top: was it left in? It comes out in steps.");
    public static Saying PadLeftLater { get; } = Saying.Of($"The pad is in and the trim near its top; not during the show.");
    public static Saying PadIn(double padDb) => Saying.Of($"Pad in: takes {padDb:0} dB away before the preamp.");
    public static Saying PadInTrim { get; } = Saying.Of($"Trim up behind the pad, to where the show should land.");
    public static Saying PadOutTrim { get; } = Saying.Of($"Trim down first, so that the pad's release is no jump.");
    public static Saying PadOut(double padDb) => Saying.Of($"Pad out: gives {padDb:0} dB back before the preamp.");
    public static Saying PadOutGoal { get; } = Saying.Of($"Trim to where the show should land.");
    public static Saying PadMute { get; } = Saying.Of($"Mute first: the pad's switch can bang.");
    public static Saying PadUnmute { get; } = Saying.Of($"Unmute again. Bring the fader down first.");

    public static Saying RecallDown(string act, double trimDb, string day) => Saying.Of($"{act} had {trimDb:0.#} dB of trim here in its show of {day}: down to where it was.");
    public static Saying RecallUp(string act, double trimDb, string day) => Saying.Of($"{act} had {trimDb:0.#} dB of trim here in its show of {day}: up to where it was.");

    public static Saying UndoTrim(Saying before) => Saying.Of($"Back to the {before} from before.");
    public static Saying UndoMute { get; } = Saying.Of($"Open again what was muted here. Bring the fader down first.");
    public static Saying UndoUnmute { get; } = Saying.Of($"Mute again.");

    public static Saying AffectsSends { get; } = Saying.Of($"every send fed by this preamp");
    public static Saying AffectsInput(int input) => Saying.Of($"input {input}");
}
