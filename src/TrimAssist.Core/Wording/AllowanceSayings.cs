namespace TrimAssist.Core.Wording;

/// <summary>What is added for what players hold back, and where the figure comes from.</summary>
internal static class AllowanceSayings
{
    public static Saying BasisPlayerOne(double db) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from 1 show of this player");
    public static Saying BasisPlayer(double db, int shows) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from {shows} shows of this player");
    public static Saying BasisKindOne(double db, string kind) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from 1 show of other players ({kind})");
    public static Saying BasisKind(double db, int shows, string kind) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from {shows} shows of other players ({kind})");
    public static Saying BasisOtherOne(double db) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from 1 show of other sources");
    public static Saying BasisOther(double db, int shows) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from {shows} shows of other sources");
    public static Saying BasisCommon(double db) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, common practice: no show has been heard yet");
    public static Saying BasisList(double db) => Saying.Of($"{db:+0.0;−0.0;0.0} dB, from the input list");
    public static Saying BasisNone(Saying role) => Saying.Of($"nothing is held back: {role}");

    public static Saying RoleAudience { get; } = Saying.Of($"audience microphones");
    public static Saying RoleSpare { get; } = Saying.Of($"a spare");
}
