using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>
/// Fits plans into what a band may confirm by itself: rises in small steps behind the mute, none beyond the session's ceiling. What does not fit
/// stays as it is, and waits for an engineer.
/// </summary>
internal sealed class RoomRises(DeskDescription desk, RiseCeiling ceiling, Func<int, InputSettings> settings)
{
    private const double StepDb = ConfirmerLimits.RoomRiseDb;

    /// <summary>The plan as a band may confirm it.</summary>
    public TrimPlan Fit(TrimPlan plan)
    {
        var inputs = plan.Inputs.Select(settings).ToArray();
        if (desk.Trim is not { } trim || inputs[0].Trim is not { } now || TrimGrid.StepDown(StepDb, trim.StepDb) <= 0
            || desk.Mute is null || inputs.Any(one => one.Muted is null) || plan.Steps.Any(step => step is { Kind: ProposalKind.Pad, To.On: not true }))
        {
            return plan;
        }

        var fits = plan.Steps is [{ Kind: ProposalKind.Trim, To.Db: { } goal }] && goal > now.Value ? Under(plan, goal, now.Value, inputs, trim) : plan;
        var steps = Cut(fits.Steps, now.Value, trim);
        var rises = steps.Count > fits.Steps.Count || (steps is [{ Kind: ProposalKind.Trim, To.Db: { } only }] && only > now.Value);
        if (!rises)
            return fits;
        return steps[0].Kind == ProposalKind.Mute || inputs.All(one => one.Muted is true)
            ? fits with { Steps = steps, OpensWhenGivenUp = steps[0].Kind == ProposalKind.Mute }
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
        var left = inputs.Min(ceiling.LeftDb);
        if (goal <= now + left)
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
                    cut.Add(step with { To = SettingValue.Gain(next), Reason = TrimSayings.RoomStep });
                    now = next;
                }

                now = goal;
                double Next() => TrimGrid.AtMost(trim, now + StepDb);
            }

            cut.Add(step);
        }

        return cut;
    }
}
