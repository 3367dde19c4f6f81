using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>
/// Fits plans into what a band may confirm by itself: rises in small steps behind the mute, each judged by what the desk has when its turn comes,
/// and none beyond the session's ceiling. What cannot be judged, since a mute or a pad is unknown, stays as it is and waits for an engineer.
/// </summary>
internal sealed class RoomRises(DeskDescription desk, RiseCeiling ceiling, Func<int, InputSettings> settings)
{
    private const double StepDb = ConfirmerLimits.RoomRiseDb;

    /// <summary>The plan as a band may confirm it.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="toCeiling">Whether what goes beyond the session's ceiling is cut off; the way back from a change is not.</param>
    public TrimPlan Fit(TrimPlan plan, bool toCeiling = true)
    {
        var inputs = plan.Inputs.Select(settings).ToArray();
        if (desk.Trim is not { } trim || inputs[0].Trim is not { } now || TrimGrid.StepDown(StepDb, trim.StepDb) <= 0
            || desk.Mute is null || inputs.Any(one => one.Muted is null) || plan.Steps.Any(step => step is { Kind: ProposalKind.Pad, To.On: not true }))
        {
            return plan;
        }

        var fits = toCeiling && plan.Steps is [{ Kind: ProposalKind.Trim, To.Db: { } goal }] && goal > now.Value ? Under(plan, goal, now.Value, inputs, trim) : plan;
        var steps = Cut(fits.Steps, now.Value, trim);
        if (steps is [{ Kind: ProposalKind.Mute }, .., { Kind: ProposalKind.Unmute }])
            return fits with { Steps = steps, OpensWhenGivenUp = true };
        var rises = steps.Count > fits.Steps.Count || (steps is [{ Kind: ProposalKind.Trim, To.Db: { } only }] && only > now.Value);
        if (!rises)
            return fits;
        return inputs.All(one => one.Muted is true)
            ? fits with { Steps = steps }
            : fits with
            {
                Steps =
                [
                    new(ProposalKind.Mute, SettingValue.Switch(true), TrimSayings.RoomMute),
                    .. steps,
                    new(ProposalKind.Unmute, SettingValue.Switch(false), TrimSayings.RoomUnmute),
                ],
                OpensWhenGivenUp = true,
            };
    }

    private TrimPlan Under(TrimPlan plan, double goal, double now, InputSettings[] inputs, TrimControl trim)
    {
        // Min passes over what is not known, so it is asked for first.
        if (inputs.Any(one => ceiling.LeftDb(one) is null) || inputs.Min(ceiling.LeftDb) is not { } left || goal <= now + left)
            return plan;
        var highest = TrimGrid.AtMost(trim, now + left);
        return plan with
        {
            Steps = highest > now ? [plan.Steps[0] with { To = SettingValue.Gain(highest) }] : [],
            Advice = Saying.Both(plan.Advice, TrimSayings.RoomLimit),
        };
    }

    private static List<PlannedStep> Cut(IReadOnlyList<PlannedStep> steps, double now, TrimControl trim)
    {
        List<PlannedStep> cut = [];
        foreach (var step in steps)
        {
            if (step is { Kind: ProposalKind.Trim, To.Db: { } goal })
            {
                for (var next = Next(); next < goal && next > now; next = Next())
                {
                    cut.Add(step with { To = SettingValue.Gain(next), Reason = TrimSayings.RoomStep, MostRiseDb = StepDb });
                    now = next;
                }

                cut.Add(step with { MostRiseDb = StepDb });
                now = goal;
                continue;
                double Next() => TrimGrid.AtMost(trim, now + StepDb);
            }

            cut.Add(step);
        }

        return cut;
    }
}
