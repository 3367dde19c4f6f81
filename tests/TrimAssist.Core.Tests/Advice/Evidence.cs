using TrimAssist.Core.Advice;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Tests.Chain;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Units;

namespace TrimAssist.Core.Tests.Advice;

/// <summary>Invented evidence: an input at 30 dB of trim whose show is expected on the target.</summary>
internal static class Evidence
{
    public const double FullScaleDbu = 18;

    public static readonly DeskDescription Desk = GateBench.Describe([]);

    public static InputEvidence Of(
        double aim = -12, double trim = 30, bool padOn = false, bool flatTop = false, double peak = -15, double loud = -24, bool clipped = false,
        IReadOnlyList<GainStretch>? stretches = null, SignalChain? chain = null) => new(
        Desk,
        new InputSettings { Input = 1, Trim = new Decibels(trim), PadOn = padOn, Muted = false },
        new InputReport(
            1, 60, new Dbfs(-80), new Dbfs(peak), new LoudestPassage(10, 13, new Dbfs(loud), new Dbfs(peak)), null, 0, flatTop,
            new ShowPrediction(new Dbfs(aim - 7), new Dbfs(aim - 2), new Dbfs(aim + 4), new Dbfs(aim), Confidence.Medium, 4, 2, clipped), null),
        stretches ?? [], new Dbfs(-12), chain);

    /// <summary>A booster, a passive box with a pad, the desk: −22 dBu through 20, −26 and 30 dB make −2 dBu less, −16 dBFS.</summary>
    public static SignalChain Bass(double boosterNow = 10, double boosterOut = 4) => new()
    {
        Source = new Dbu(-22),
        SourceNoise = new Dbu(-110),
        Target = new Dbu(FullScaleDbu - 12),
        FullScale = new Dbu(FullScaleDbu),
        Headroom = new Decibels(6),
        Stages =
        [
            Chains.Stage("booster", 0, 20).Limits(0, boosterOut).Hiss(-92).NowAt(boosterNow),
            Chains.Stage("box", -10, -10).Limits(10).Padded(20),
            Chains.Stage("preamp", 0, 60).Limits(4, 24).Ein(-126) with { IsDeskTrim = true },
            Chains.Stage("converter", 0, 0).Hiss(-92),
        ],
    };
}
