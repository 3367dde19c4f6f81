namespace TrimAssist.Core.Wording;

/// <summary>Why a trim of an act's last show is not brought back, and what to do instead.</summary>
internal static class RecallSayings
{
    public static Saying RecallNoShow { get; } = Saying.Of($"No show of this input is remembered: check it.");
    public static Saying RecallChanged(Saying was) => Saying.Of($"Changed since: it was {was}. Check it anew.");
    public static Saying RecallUnnamed { get; } = Saying.Of($"unnamed");
    public static Saying RecallNoTrim { get; } = Saying.Of($"Its trim is not remembered: check it.");
    public static Saying RecallUnread { get; } = Saying.Of($"The desk has not said where the trim stands: look at the desk.");
    public static Saying RecallPadIn { get; } = Saying.Of($"The pad was in then and is not now: set it first.");
    public static Saying RecallPadOut { get; } = Saying.Of($"The pad was out then and is not now: set it first.");
    public static Saying RecallNoRise { get; } = Saying.Of($"Was higher then; no increase is proposed during the show.");
}
