using TrimAssist.Core.Acts;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;

namespace TrimAssist.Core.Assist;

/// <summary>Runs the sound checks of one desk and turns what they heard into proposals.</summary>
internal sealed class CheckRoom(
    DeskDescription desk, ActStage acts, Ears ears, ProposalDesk proposals, Func<int, InputSettings> settings, Func<Guid> newId, IAssistantEvents events)
{
    /// <summary>How many checks are remembered.</summary>
    private const int Bound = 100;

    private readonly List<Running> _checks = [];

    /// <summary>Whether a running check listens to this input.</summary>
    public bool ListensTo(int input) => _checks.Exists(one => one.Check.State == CheckState.Listening && one.Check.Inputs.Contains(input));

    public SoundCheck? Latest => _checks.Count > 0 ? _checks[^1].Check : null;

    public SoundCheck? LatestOf(int input) => _checks.FindLast(one => one.Check.Inputs.Contains(input))?.Check;

    public SoundCheck? Find(Guid id) => _checks.Find(one => one.Check.Id == id)?.Check;

    /// <summary>What the check has heard so far, or what it ended with.</summary>
    public IReadOnlyList<CheckResult> Results(Guid id) => _checks.Find(one => one.Check.Id == id) switch
    {
        null => [],
        { Results: { } kept } => kept,
        var running => [.. running.Check.Inputs.Select(ears.Report).Select(report => new CheckResult(report, report.Withheld, null))],
    };

    public SoundCheck Start(IReadOnlyList<int> inputs, Moment now)
    {
        foreach (var older in _checks.Where(one => one.Check.State == CheckState.Listening && one.Check.Inputs.Intersect(inputs).Any()).ToList())
            Close(older, CheckState.Superseded, "A newer check took these inputs.", now);
        var check = new SoundCheck(newId(), desk.Id, [.. inputs.Order()], CheckState.Listening, now, null, null);
        foreach (var input in inputs)
            ears.Restart(input);
        proposals.SupersedeChecked(inputs, "A new check of this input began.");
        _checks.Add(new Running(check));
        if (_checks.Count > Bound)
            _checks.RemoveAt(0);
        events.CheckChanged(check);
        return check;
    }

    /// <summary>Ends a check and proposes. A check that has ended already answers what it ended with.</summary>
    public SoundCheck? Finish(Guid id, bool mayRaise, Moment now)
    {
        if (_checks.Find(one => one.Check.Id == id) is not { } running)
            return null;
        if (running.Check.State != CheckState.Listening)
            return running.Check;
        running.Results = [.. Units(running.Check.Inputs).SelectMany(unit => Decide(unit, mayRaise, now)).OrderBy(result => result.Report.Input)];
        return Close(running, CheckState.Finished, running.Check.Note, now);
    }

    /// <summary>The desk became another desk (scene recall, restart): what was heard before is worth nothing.</summary>
    public void RestartAll(string note, Moment now)
    {
        foreach (var running in _checks.Where(one => one.Check.State == CheckState.Listening))
        {
            foreach (var input in running.Check.Inputs)
                ears.Restart(input);
            running.Check = running.Check with { StartedAt = now, Note = note };
            events.CheckChanged(running.Check);
        }
    }

    private SoundCheck Close(Running running, CheckState state, string? note, Moment now)
    {
        running.Results ??= [.. Results(running.Check.Id)];
        running.Check = running.Check with { State = state, FinishedAt = now, Note = note };
        events.CheckChanged(running.Check);
        return running.Check;
    }

    private IEnumerable<CheckResult> Decide(int[] unit, bool mayRaise, Moment now)
    {
        var reports = unit.Select(ears.Report).ToArray();
        foreach (var report in reports)
            acts.Keep(report, settings(report.Input));
        if (unit.Select(acts.WhyNoTrim).FirstOrDefault(why => why is not null) is { } none)
            return reports.Select(report => new CheckResult(report, none, null));
        var loudest = reports.MaxBy(report => report.Prediction?.Aim.Value ?? double.NegativeInfinity)!;
        var plan = TrimPlanner.Plan(desk, [.. unit.Select(settings)], loudest, acts.TargetOf(loudest.Input), mayRaise);
        plan = plan with { Evidence = plan.Evidence with { AllowanceBasis = acts.AllowanceOf(loudest.Input).Basis } };
        var proposal = proposals.Propose(plan, now, ProposalLife.Trim);
        var advice = (plan.Steps.Count > 0 && proposal is null, proposals.IsPatched(unit)) switch
        {
            (false, _) => plan.Advice,
            (_, true) => "A safe patch is under way: check it again after it.",
            _ => "The desk has not said where this control stands.",
        };
        return reports.Select(report => new CheckResult(report, advice, proposal?.Id));
    }

    // A linked pair is one unit when both halves are in the check; half a pair is proposed for both halves, since both move.
    private IEnumerable<int[]> Units(IReadOnlyList<int> inputs)
    {
        var done = new HashSet<int>();
        foreach (var input in inputs)
        {
            if (!done.Contains(input))
                yield return [.. LinkedPair.Of(input, PairedByList, desk.Inputs).Where(done.Add)];
        }
    }

    // What the desk does not link, the input list may pair.
    private InputSettings PairedByList(int input)
    {
        var now = settings(input);
        return now.LinkedTo is null ? now with { LinkedTo = acts.Line(input)?.Pair } : now;
    }

    private sealed class Running(SoundCheck check)
    {
        public SoundCheck Check { get; set; } = check;

        public IReadOnlyList<CheckResult>? Results { get; set; }
    }
}
