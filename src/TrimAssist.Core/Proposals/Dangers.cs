using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>The dangers that a confirmer must name back, and when a change carries them.</summary>
public static class Dangers
{
    /// <summary>A rise beyond <see cref="OpenIncreaseLimitDb"/> on an input that people hear now, or may hear.</summary>
    public const string OpenIncrease = "open-increase";

    /// <summary>The preamp feeds others too.</summary>
    public const string SharedPreamp = "shared-preamp";

    /// <summary>How far an open input may rise without a second word. An unmute or an open fader delivers the whole jump at once.</summary>
    public const double OpenIncreaseLimitDb = 6;

    /// <summary>A fader at or below this is down: common practice, the foot of most fader scales.</summary>
    public const double FaderDownDb = -60;

    /// <summary>The dangers of a change as the desk stands now. Unknown counts as dangerous.</summary>
    /// <param name="kind">What changes.</param>
    /// <param name="from">The value now.</param>
    /// <param name="to">The value proposed.</param>
    /// <param name="inputs">The settings of every input changed.</param>
    /// <param name="desk">The desk.</param>
    /// <param name="othersOnSocket">Whether another input hangs on the same socket.</param>
    public static IReadOnlyList<string> Of(
        ProposalKind kind, SettingValue from, SettingValue to, IEnumerable<InputSettings> inputs, DeskDescription desk, bool othersOnSocket)
    {
        var needs = new List<string>(2);
        if (RiseDb(kind, from, to, desk) > OpenIncreaseLimitDb && inputs.Any(IsOpenOrUnknown))
            needs.Add(OpenIncrease);
        var shared = kind switch
        {
            ProposalKind.Trim => desk.Trim?.SharedWith.Count > 0 || othersOnSocket,
            ProposalKind.Pad => desk.Pad?.SharedWith.Count > 0 || othersOnSocket,
            _ => false,
        };
        if (shared)
            needs.Add(SharedPreamp);
        return needs;
    }

    /// <summary>How much louder the input gets, in dB; negative when softer.</summary>
    public static double RiseDb(ProposalKind kind, SettingValue from, SettingValue to, DeskDescription desk) => kind switch
    {
        ProposalKind.Trim => to.Db.GetValueOrDefault() - from.Db.GetValueOrDefault(),
        ProposalKind.Pad => (desk.Pad?.PadDb ?? 0) * (to.On is true ? -1 : 1),
        _ => 0,
    };

    private static bool IsOpenOrUnknown(InputSettings input) =>
        input.Muted is not true && input.FaderDb is not <= FaderDownDb;
}
