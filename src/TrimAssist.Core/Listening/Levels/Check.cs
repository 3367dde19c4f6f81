using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Listening.Levels;

/// <summary>Puts together what a check says about one input.</summary>
internal static class Check
{
    /// <summary>Seconds of playing that are enough for a prediction.</summary>
    public const double EnoughS = 10;

    /// <summary>What peaks lower is no playing that a trim could be worked out from.</summary>
    public const double QuietestPlayingDbfs = -60;

    /// <summary>Works the report out.</summary>
    public static InputReport Of(int input, TapeCopy tape, CheckFacts facts, ReportOptions options)
    {
        var playing = Playing.Find(tape);
        var floor = NoiseFloor.Of(tape);
        var loudest = playing is null ? null : LoudestPassageFinder.Find(playing.Tape);
        var flatTop = playing is not null && FlatTopDetector.PilesUp(playing, facts.FullScaleDbfs);
        var withheld = WhyWithheld(playing, facts);
        return new InputReport(
            input,
            playing?.ActiveS ?? 0,
            double.IsFinite(floor) ? new Dbfs(floor) : null,
            playing is null ? null : new Dbfs(playing.PeakDbfs),
            loudest,
            loudest is not null && double.IsFinite(floor) ? loudest.Level - new Dbfs(floor) : null,
            facts.Overloads,
            flatTop,
            withheld is null ? ShowPeakPredictor.Predict(playing!, facts, flatTop, options) : null,
            withheld);
    }

    private static Saying? WhyWithheld(Playing? playing, CheckFacts facts) => playing switch
    {
        null when facts.Standstills > 0 => CheckSayings.CheckStill,
        null => CheckSayings.CheckNothing,
        { PeakDbfs: < QuietestPlayingDbfs } => CheckSayings.CheckQuiet(QuietestPlayingDbfs),
        { ActiveS: < EnoughS } => CheckSayings.CheckMore(Math.Floor(playing.ActiveS), EnoughS),
        _ => null,
    };
}
