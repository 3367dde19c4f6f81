using TrimAssist.Core.Acts;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>Runs the sound checks of one desk and turns what they heard into proposals.</summary>
internal sealed class CheckRoom(
    DeskDescription desk, ActStage acts, Ears ears, ProposalDesk proposals, RoomRises? rises, Func<int, InputSettings> settings, Func<Guid> newId, IAssistantEvents events)
{
    /// <summary>How many checks are remembered.</summary>
    private const int Bound = 100;

    private readonly List<Running> _checks = [];

    /// <summary>Whether a running check listens to this input.</summary>
    public bool ListensTo(int input) => _checks.Exists(one => one.Check.State == CheckState.Listening && one.Check.Inputs.Contains(input));

    /// <summary>Whether any check listens.</summary>
    public bool Listens => _checks.Exists(one => one.Check.State == CheckState.Listening);

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

    /// <summary>How far the players' loud passages lie apart; <see langword="null"/> where fewer than two were heard.</summary>
    public FaderSpread? Spread(Guid id) => _checks.Find(one => one.Check.Id == id) switch
    {
        null => null,
        { Results: not null } ended => ended.Spread,
        var running => Spread([.. running.Check.Inputs.Select(ears.Report)], moves: null),
    };

    public SoundCheck Start(IReadOnlyList<int> inputs, CheckAim aim, Moment now, Saying? note = null)
    {
        foreach (var older in _checks.Where(one => one.Check.State == CheckState.Listening && one.Check.Inputs.Intersect(inputs).Any()).ToList())
            Close(older, CheckState.Superseded, CheckSayings.CheckNewer, now);
        var check = new SoundCheck(newId(), desk.Id, [.. inputs.Order()], CheckState.Listening, now, null, note) { Aim = aim };
        foreach (var input in inputs)
            ears.Restart(input);
        proposals.SupersedeChecked(inputs, OutcomeSayings.ClosedCheck);
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
        var units = Units(running.Check.Inputs).ToList();
        var lower = running.Check.Aim == CheckAim.EvenFaders ? Lowerings(units) : [];
        var moves = new Dictionary<int, double>();
        running.Results = [.. units.SelectMany(unit => Decide(unit, lower.GetValueOrDefault(unit[0]), moves, mayRaise, now)).OrderBy(result => result.Report.Input)];
        running.Spread = Spread([.. running.Results.Select(result => result.Report)], moves);
        return Close(running, CheckState.Finished, running.Check.Note, now);
    }

    /// <summary>The desk became another desk (scene recall, restart): what was heard before is worth nothing.</summary>
    public void RestartAll(Saying note, Moment now)
    {
        foreach (var running in _checks.Where(one => one.Check.State == CheckState.Listening))
        {
            foreach (var input in running.Check.Inputs)
                ears.Restart(input);
            running.Check = running.Check with { StartedAt = now, Note = note };
            events.CheckChanged(running.Check);
        }
    }

    private SoundCheck Close(Running running, CheckState state, Saying? note, Moment now)
    {
        running.Results ??= [.. Results(running.Check.Id)];
        running.Check = running.Check with { State = state, FinishedAt = now, Note = note };
        events.CheckChanged(running.Check);
        return running.Check;
    }

    private List<CheckResult> Decide(int[] unit, double lowerDb, Dictionary<int, double> moves, bool mayRaise, Moment now)
    {
        var reports = unit.Select(ears.Report).ToArray();
        foreach (var report in reports)
            acts.Keep(report, settings(report.Input));
        if (unit.Select(acts.WhyNoTrim).FirstOrDefault(why => why is not null) is { } none)
            return [.. reports.Select(report => new CheckResult(report, none, null))];
        var loudest = reports.MaxBy(report => report.Prediction?.Aim.Value ?? double.NegativeInfinity)!;
        var plan = TrimPlanner.Plan(desk, [.. unit.Select(settings)], loudest, acts.TargetOf(loudest.Input) - new Decibels(lowerDb), mayRaise);
        plan = rises?.Fit(plan) ?? plan;
        plan = plan with { Evidence = plan.Evidence with { AllowanceBasis = acts.AllowanceOf(loudest.Input).Basis } };
        var proposal = proposals.Propose(plan, now, ProposalLife.Trim);
        var advice = (plan.Steps.Count > 0 && proposal is null, proposals.IsPatched(unit)) switch
        {
            (false, _) => plan.Advice,
            (_, true) => CheckSayings.CheckPatched,
            _ => CheckSayings.CheckUnknown,
        };
        if (lowerDb > 0 && proposal is not null)
            advice = advice is null ? CheckSayings.CheckEven(lowerDb) : Saying.Both(CheckSayings.CheckEven(lowerDb), advice);
        foreach (var input in unit)
            moves[input] = proposal is null ? 0 : plan.GainChange(desk, settings(input));
        return [.. reports.Select(report => new CheckResult(report, advice, proposal?.Id))];
    }

    // By the first input of a unit: how far it is to stay under what its headroom allows.
    private Dictionary<int, double> Lowerings(List<int[]> units)
    {
        List<(int Unit, double Level)> loud = [];
        foreach (var unit in units.Where(unit => unit.All(acts.PlaysLive) && desk.Trim is not null))
        {
            var heard = unit.Select(ears.Report).Where(report => report is { Prediction: not null, Loudest: not null }).MaxBy(report => report.Prediction!.Aim.Value);
            if (heard is not null && settings(unit[0]).Trim is { } now)
                loud.Add((unit[0], heard.Loudest!.Level.Value + TrimGrid.AtMost(desk.Trim!, (now + (acts.TargetOf(heard.Input) - heard.Prediction!.Aim)).Value) - now.Value));
        }

        var lower = EvenFaders.Lowerings([.. loud.Select(one => one.Level)], desk.Trim?.StepDb ?? 0);
        return loud.Select((one, index) => (one.Unit, Db: lower[index])).ToDictionary(one => one.Unit, one => one.Db);
    }

    private FaderSpread? Spread(IReadOnlyList<InputReport> reports, Dictionary<int, double>? moves)
    {
        var loud = reports.Where(report => acts.PlaysLive(report.Input) && report is { Prediction: not null, Loudest: not null }).ToList();
        return FaderSpread.Of([.. loud.Select(report => report.Loudest!.Level.Value)]) is { } now
            ? new(now, moves is null ? null : FaderSpread.Of([.. loud.Select(report => report.Loudest!.Level.Value + moves.GetValueOrDefault(report.Input))]))
            : null;
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

        public FaderSpread? Spread { get; set; }
    }
}
