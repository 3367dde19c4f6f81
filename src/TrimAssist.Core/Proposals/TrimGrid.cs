using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>The settings that a trim really has: steps counted from its lowest.</summary>
public static class TrimGrid
{
    /// <summary>Numerical slack, far below any desk's step, so that a value on a step stays there.</summary>
    private const double Slack = 1e-6;

    /// <summary>The highest setting that is not above <paramref name="db"/>, inside the range: rounding is towards less gain.</summary>
    public static double AtMost(TrimControl trim, double db)
    {
        var inside = Math.Clamp(db, trim.MinDb, trim.MaxDb);
        return StepDown(inside - trim.MinDb, trim.StepDb) + trim.MinDb;
    }

    /// <summary>The largest multiple of <paramref name="stepDb"/> that is not above <paramref name="db"/>.</summary>
    public static double StepDown(double db, double stepDb) =>
        stepDb <= 0 ? db : Math.Round(Math.Floor((db / stepDb) + Slack) * stepDb, 6);
}
