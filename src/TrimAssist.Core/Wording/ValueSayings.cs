namespace TrimAssist.Core.Wording;

/// <summary>The values of a desk's controls.</summary>
internal static class ValueSayings
{
    public static Saying ValueGain(double db) => Saying.Of($"{db:0.0} dB");
    public static Saying ValueOn { get; } = Saying.Of($"on");
    public static Saying ValueOff { get; } = Saying.Of($"off");
    public static Saying ValueTrim(double db) => Saying.Of($"{db:0.#} dB of trim");
    public static Saying ValuePadIn { get; } = Saying.Of($"pad in");
    public static Saying ValuePadOut { get; } = Saying.Of($"pad out");
    public static Saying ValueMuted { get; } = Saying.Of($"muted");
    public static Saying ValueOpen { get; } = Saying.Of($"open");
    public static Saying ValueMuteUnknown { get; } = Saying.Of($"mute unknown");
    public static Saying ValueList(Saying first, Saying second) => Saying.Of($"{first}, {second}");
}
