using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>Works out the trim that puts the show's peak on the target: quantised towards less gain, inside the desk's range.</summary>
public static class TrimPlanner
{
    /// <summary>A pad that is in while the trim stands this close to its top was probably left in: common practice.</summary>
    private const double NearTopDb = 6;

    /// <summary>Plans for one input, or for a linked pair by the louder half.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="settings">The settings of the inputs, one or two.</param>
    /// <param name="heard">The loudest of the inputs' reports.</param>
    /// <param name="target">Where the show's peak should land.</param>
    /// <param name="mayRaise">Whether an increase may be proposed at all: never during a watch.</param>
    public static TrimPlan Plan(
        DeskDescription desk, IReadOnlyList<InputSettings> settings, InputReport heard, Dbfs target, bool mayRaise)
    {
        var inputs = settings.Select(one => one.Input).ToArray();
        var evidence = EvidenceOf(heard, target);
        TrimPlan Only(Saying? advice) => new(inputs, [], advice, evidence);

        if (heard.Prediction is not { } prediction)
            return Only(heard.Withheld);
        if (desk.Trim is not { } trim)
            return Only(TrimSayings.TrimNone);
        if (!desk.Meter.GoodForTrims)
            return Only(TrimSayings.TrimWarnOnly);
        if (settings[0].Trim is not { } current)
            return Only(TrimSayings.TrimUnread);
        if (settings.Any(one => one.Trim is not { } other || Math.Abs(other.Value - current.Value) > trim.ToleranceDb))
            return Only(TrimSayings.TrimPair);

        var wanted = current + (target - prediction.Aim);
        var goal = TrimGrid.AtMost(trim, wanted.Value);
        var reason = Reason(heard, prediction, current, target);
        if (settings.Count == 1 && desk.Pad is { } pad && PadPlan(desk, settings[0], pad, trim, wanted) is { } steps)
        {
            var padGoesIn = steps.Any(step => step is { Kind: ProposalKind.Pad, To.On: true });
            return mayRaise
                ? new(inputs, steps, padGoesIn ? TrimSayings.PadHot : TrimSayings.PadLeft, evidence)
                : Only(padGoesIn ? TrimSayings.PadHotLater : TrimSayings.PadLeftLater);
        }

        if (Math.Abs(goal - current.Value) < Math.Max(trim.StepDb, trim.ToleranceDb) - 1e-9)
            return Only(TrimSayings.TrimRight);
        if (goal > current.Value && !mayRaise)
            return Only(TrimSayings.TrimNotUp);
        return new(inputs, [new(ProposalKind.Trim, SettingValue.Gain(goal), reason)], Limit(trim, wanted, prediction), evidence);
    }

    private static IReadOnlyList<PlannedStep>? PadPlan(
        DeskDescription desk, InputSettings now, PadControl pad, TrimControl trim, Decibels wanted)
    {
        // Without a mute whose state is known the sequence cannot be run safely: the plan stays with the trim.
        if (desk.Mute is null || now.Muted is null || now.PadOn is not { } padOn)
            return null;
        if (!padOn && wanted.Value < trim.MinDb && wanted.Value + pad.PadDb <= trim.MaxDb)
            return PadSteps.In(TrimGrid.AtMost(trim, wanted.Value + pad.PadDb), pad, now);
        var outGoal = wanted.Value - pad.PadDb;
        return padOn && wanted.Value > trim.MaxDb - NearTopDb && outGoal >= trim.MinDb
            ? PadSteps.Out(TrimGrid.AtMost(trim, outGoal), pad, trim, now)
            : null;
    }

    private static Saying? Limit(TrimControl trim, Decibels wanted, ShowPrediction prediction) => wanted.Value switch
    {
        var db when db > trim.MaxDb => TrimSayings.TrimTop(trim.MaxDb, db - trim.MaxDb),
        var db when db < trim.MinDb => TrimSayings.TrimBottom(trim.MinDb, trim.MinDb - db),
        _ => prediction.LowerBoundOnly ? TrimSayings.TrimClippedAfter : null,
    };

    private static Saying Reason(InputReport heard, ShowPrediction prediction, Decibels current, Dbfs target)
    {
        if (prediction.LowerBoundOnly)
            return TrimSayings.TrimClipped(current.Value);
        var peak = heard.Peak is { } seen ? TrimSayings.TrimHeard(Level(seen)) : Saying.Plain("");
        return prediction.Aim > target
            ? TrimSayings.TrimExpectedDown(Level(prediction.Middle), current.Value, peak, Level(target))
            : TrimSayings.TrimExpectedUp(Level(prediction.Middle), current.Value, peak, Level(target));
    }

    private static string Level(Dbfs level) => level.Value.ToString("0.#", null).Replace('-', '−');

    private static ProposalEvidence EvidenceOf(InputReport heard, Dbfs target) => new()
    {
        ActiveS = heard.ActiveS,
        PeakDbfs = heard.Peak?.Value,
        LoudestPassageDbfs = heard.Loudest?.Level.Value,
        NoiseFloorDbfs = heard.NoiseFloor?.Value,
        PredictedLowDbfs = heard.Prediction?.Low.Value,
        PredictedShowPeakDbfs = heard.Prediction?.Middle.Value,
        PredictedHighDbfs = heard.Prediction?.High.Value,
        TargetPeakDbfs = target.Value,
        AllowanceDb = heard.Prediction?.AllowanceDb,
        Confidence = heard.Prediction is { } prediction ? Text(prediction.Confidence) : null,
    };

    private static string Text(Confidence confidence) => confidence switch
    {
        Confidence.High => "high",
        Confidence.Medium => "medium",
        _ => "low",
    };
}
