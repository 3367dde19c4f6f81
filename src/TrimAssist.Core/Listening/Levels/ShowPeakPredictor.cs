using TrimAssist.Core.Units;

namespace TrimAssist.Core.Listening.Levels;

/// <summary>Works out from all the playing of a check where the show's highest peak will lie.</summary>
internal static class ShowPeakPredictor
{
    /// <summary>Spread of an input's loudest moments in dB (the scale of their exponential tail, and of the Gumbel law of their maximum).</summary>
    public const double ScaleDb = 2;

    /// <summary>A show's loudest moments are those of at least this many times the playing heard.</summary>
    public const double Times = 3;

    private const double UsualPlayingS = 30;
    private const double Z90 = 1.6448536269514722;
    private const double CapScales = 1.5;
    private const double BlockS = 2;
    private const double ClippedStepDb = 6;

    /// <summary>Predicts from playing that was heard.</summary>
    public static ShowPrediction Predict(Playing playing, CheckFacts facts, bool flatTop, ReportOptions options)
    {
        var tape = playing.Tape;
        var blocks = Quantile.Sorted(BlockMaxima.Of(tape.Peak, tape.Cells(BlockS)));
        var played = blocks.Count(block => block > playing.ThresholdDbfs);
        var rank = 1 + (int)Math.Min(Math.Min(0.15 * blocks.Length, 0.4 * played), 11);
        // Rényi 1953: of exponential tails the highest lies scale × (1 + 1/2 + … + 1/(rank − 1)) over the rank-th
        var implied = blocks[^rank] + ScaleDb * Harmonic(rank - 1);
        var capped = Math.Min(playing.PeakDbfs, implied + CapScales * ScaleDb);
        var check = (implied + capped) / 2;

        var times = Times * Math.Max(1, UsualPlayingS / Math.Max(playing.ActiveS, 1));
        var growth = Gumbel.Growth(ScaleDb, times);
        var clipped = playing.PeakDbfs >= facts.FullScaleDbfs - OverloadCounter.MarginDb;
        var middle = check + options.Allowance.Value + growth + (clipped ? ClippedStepDb : 0);
        var own = Gumbel.Deviation(ScaleDb) / 2;
        var spread = Math.Sqrt(
            Square(options.AllowanceSpreadDb) + Square(own) + Square((implied - capped) / 2) + Square(growth - Gumbel.Growth(ScaleDb, Times)));
        var (low, high) = (middle - Z90 * spread, middle + Z90 * spread);
        if (clipped)
            (low, high) = (Math.Max(low, facts.FullScaleDbfs), high + ClippedStepDb);
        // the upper end must stay under full scale once the aim stands on the target
        var aim = Math.Max(middle, high + options.Target.Value);
        return new ShowPrediction(
            new Dbfs(low), new Dbfs(middle), new Dbfs(high), new Dbfs(aim),
            ConfidenceOf(playing, clipped, options), options.Allowance.Value, growth, clipped);
    }

    private static Confidence ConfidenceOf(Playing playing, bool clipped, ReportOptions options) =>
        clipped || playing.ActiveS < UsualPlayingS / 2 ? Confidence.Low
        : options.AllowanceLearned && playing.ActiveS >= UsualPlayingS ? Confidence.High
        : Confidence.Medium;

    private static double Harmonic(int n)
    {
        double sum = 0;
        for (var i = 1; i <= n; i++)
            sum += 1.0 / i;
        return sum;
    }

    private static double Square(double x) => x * x;
}
