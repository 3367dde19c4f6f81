using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>
/// Everything the service knows and decides about one desk: listens, checks, proposes, guards, warns. It never sends: what
/// may be written leaves through the <see cref="Gate"/> as a <see cref="ConfirmedChange"/>. One owner: the desk's loop.
/// </summary>
public sealed class DeskAssistant
{
    private readonly Ears _ears;
    private readonly AdviceDesk _advice;
    private readonly CheckRoom _checks;
    private readonly ShowTeller _show;
    private readonly FindingDesk _findings;
    private readonly MoveWatch _moves;
    private readonly AmendmentDesk _amendments;
    private readonly RehearsalRoom? _room;
    private readonly RoomRises? _rises;
    private readonly RiseCeiling _ceiling;
    private readonly ProposalDesk _proposals;
    private readonly FindingRing _found = new();
    private readonly Func<int, InputSettings> _settings;
    private readonly IAssistantEvents _events;
    private TimeSpan _tickedAt;
    private Guid? _staleAlarm;

    /// <summary>Makes the assistant of one desk.</summary>
    /// <param name="desk">The desk, as its profile describes it.</param>
    /// <param name="options">What the engineer chose.</param>
    /// <param name="settings">What the desk last said about an input.</param>
    /// <param name="muteHeardAgo">How long ago the desk told the state of an input's mute; <see langword="null"/> where it never did.</param>
    /// <param name="newId">Makes ids.</param>
    /// <param name="events">Told of everything that happens.</param>
    public DeskAssistant(
        DeskDescription desk, AssistOptions options, Func<int, InputSettings> settings, Func<int, TimeSpan?> muteHeardAgo, Func<Guid> newId, IAssistantEvents events)
    {
        Desk = desk;
        _settings = settings;
        _events = events;
        Acts = new ActStage(desk, options.Target, options.AllowanceOf);
        Alarms = new AlarmBoard(desk.Id, newId, events.AlarmChanged);
        Book = new ProposalBook(events.ProposalChanged);
        Gate = new ConfirmationGate(Book);
        _ears = new Ears(desk, Acts);
        _show = new ShowTeller(Acts, _ears, settings, events);
        _advice = new AdviceDesk(desk, Acts, _ears);
        _proposals = new ProposalDesk(desk, Book, settings, newId);
        _ceiling = new RiseCeiling(desk, options.Rehearsal?.MostRiseDb ?? RiseCeiling.MostDb);
        _rises = options.Rehearsal is null ? null : new RoomRises(desk, _ceiling, settings);
        _checks = new CheckRoom(desk, Acts, _ears, _proposals, _rises, settings, newId, events);
        _room = options.Rehearsal is { } rehearsal ? new RehearsalRoom(desk, Acts, _ears, _checks, rehearsal, () => _ceiling.Begin(settings)) : null;
        Patches = new PatchRoom(desk, _proposals, Book, Alarms, new PatchSenses(settings, muteHeardAgo, LevelsOf), newId, events.PatchChanged);
        _findings = new FindingDesk(desk, Alarms, _proposals, Book, Patches, settings);
        _moves = new MoveWatch(desk, Alarms, Book);
        _amendments = new AmendmentDesk(desk, Book, _proposals, _rises, settings);
    }

    /// <summary>The desk.</summary>
    public DeskDescription Desk { get; }

    /// <summary>How the link stands.</summary>
    public LinkState Link { get; private set; }

    /// <summary>Whether the show is watched: alarms everywhere, no increases.</summary>
    public bool Watching { get; private set; }

    /// <summary>The alarms.</summary>
    public AlarmBoard Alarms { get; }

    /// <summary>The proposals.</summary>
    public ProposalBook Book { get; }

    /// <summary>The gate.</summary>
    public ConfirmationGate Gate { get; }

    /// <summary>The running order and the act that is on.</summary>
    public ActStage Acts { get; }

    /// <summary>The safe patches.</summary>
    public PatchRoom Patches { get; }

    /// <summary>The desk's side of a decision, as it stands now.</summary>
    public DeskView View => new(Link, _settings, Desk.Trim?.ToleranceDb ?? 0);

    /// <summary>Takes in a proposal of an earlier run: remembered, never open.</summary>
    public void Recall(Proposal proposal) => Book.Recall(proposal);

    /// <summary>Hears one meter reading. Allocates nothing unless something is found.</summary>
    public void OnReading(in MeterReading reading, Moment now)
    {
        _ears.Hear(reading, _found);
        _room?.Hear(reading);
        Patches.Hear(reading);
        TakeFindings(now);
    }

    /// <summary>Hears that the desk's own overload flag of an input is up; once for each frame in which it is.</summary>
    public void OnOverload(int input, double timeS, Moment now)
    {
        _ears.HearOverload(input, timeS, _found);
        TakeFindings(now);
    }

    /// <summary>Takes in that the desk said something new about an input, or repeated itself.</summary>
    public void OnSettings(InputSettings before, InputSettings after, Moment now)
    {
        if (before == after)
            return;
        _ears.Refer(before, after);
        _room?.Refer(before, after);
        _ceiling.Hear(after);
        _moves.Hear(before, after, now);
        foreach (var resolved in Gate.Resolve(before, after, View))
            _proposals.Follow(resolved, now);
        _proposals.SupersedeMoved(View);
        if (before.LinkedTo != after.LinkedTo)
            _proposals.SupersedePreamp(after.Input, OutcomeSayings.ClosedPair);
        _proposals.RenewDangers();
        Patches.Look(Link, now);
    }

    /// <summary>Takes in that many values moved at once, or that the desk came back another: what was heard no longer holds.</summary>
    public void OnDeskReplaced(Saying why, Moment now)
    {
        _checks.RestartAll(why, now);
        _ceiling.Begin(_settings);
        _proposals.Supersede(Enumerable.Range(1, Desk.Inputs), why);
    }

    /// <summary>Takes in how the link stands.</summary>
    public void OnLink(LinkState link, Saying reason, Moment now)
    {
        Link = link;
        if (link is LinkState.Stale or LinkState.Lost)
            _staleAlarm ??= Alarms.Raise(AlarmKind.DeskStale, null, now, text: AlarmSayings.AlarmStaleWhy(reason)).Id;
        if (link == LinkState.Live && _staleAlarm is { } alarm)
        {
            Alarms.End(alarm, now);
            _staleAlarm = null;
        }

        Patches.Look(link, now);
    }

    /// <summary>Lets time pass: expiries, off-delays, shelving. Ten times a second is enough.</summary>
    public void Tick(Moment now)
    {
        _tickedAt = now.Elapsed;
        foreach (var expired in Book.Expire(now))
            _proposals.Follow(expired, now);
        _proposals.CloseEnded(now);
        Patches.Look(Link, now);
        Alarms.Tick(now);
        _room?.Tick(Watching, now);
        if (Watching)
            _show.Tick(now);
    }

    /// <summary>Turns the show watch on or off. While it is on, open increases are taken back and none is proposed.</summary>
    public void Watch(bool on, Moment now)
    {
        if (Watching && !on)
            _show.Over();
        if (on && !Watching)
        {
            _room?.Finish(mayRaise: false, now);
            _show.Begin(now);
        }

        // Said again in the middle of the show, it must not take what the show has reached for what the check let expect.
        if (Watching != on)
            _ears.ExpectShow(on);
        Watching = _ears.InShow = on;
        _proposals.MayRaise(!on, now);
    }

    /// <summary>The service stops: what a show that is still watched was like is told before: as a whole where nobody plays any more, else so far.</summary>
    /// <returns>Whether there was one.</returns>
    public bool Leave(Moment now)
    {
        if (Watching)
            _show.Leave(now);
        return Watching;
    }

    /// <summary>An act comes on. Its checks and its show are its own.</summary>
    public void BeginAct(Act act, Moment now)
    {
        if (Watching)
            _show.Over();
        Acts.Begin(act, now);
        _ceiling.Begin(_settings);
        _ears.RestartShow();
        _events.ActBegun(Desk.Id, act, now.Utc);
    }

    /// <summary>The act that is on goes off.</summary>
    public void EndAct(Moment now)
    {
        if (Acts.Current is not { } act)
            return;
        if (Watching)
            _show.Over();
        Acts.End();
        _events.ActEnded(Desk.Id, act, now.Utc);
    }

    /// <summary>What would bring back the trims of an act's last show, for review; see <see cref="TrimRecall"/>.</summary>
    public IReadOnlyList<RecalledInput> RecallTrims(Act act, IReadOnlyList<ShowInput> last) => TrimRecall.Of(act, last, Desk, _settings, mayRaise: !Watching);

    /// <summary>Starts a check over some inputs. Their earlier proposals give way.</summary>
    public SoundCheck StartCheck(IReadOnlyList<int> inputs, Moment now, CheckAim aim = CheckAim.Headroom) => _checks.Start(inputs, aim, now);

    /// <summary>A check; <see langword="null"/> where there is none with this id.</summary>
    public SoundCheck? FindCheck(Guid id) => _checks.Find(id);

    /// <summary>The check begun last; <see langword="null"/> before the first.</summary>
    public SoundCheck? LatestCheck => _checks.Latest;

    /// <summary>The check of an input begun last; <see langword="null"/> before its first.</summary>
    public SoundCheck? LatestCheckOf(int input) => _checks.LatestOf(input);

    /// <summary>What a check has heard.</summary>
    public IReadOnlyList<CheckResult> CheckResults(Guid id) => _checks.Results(id);

    /// <summary>How far a check's loud passages lie apart at unity.</summary>
    public FaderSpread? CheckSpread(Guid id) => _checks.Spread(id);

    /// <summary>Finishes a check and makes its proposals; <see langword="null"/> where there is none with this id.</summary>
    public SoundCheck? FinishCheck(Guid id, Moment now) => _checks.Finish(id, mayRaise: !Watching, now);

    /// <summary>Takes in that the desk was asked anew about what was sent and never read back, and has answered.</summary>
    public void ResolveRead(Guid id, Moment now)
    {
        if (Gate.ResolveRead(id, View) is { } resolved)
            _proposals.Follow(resolved, now);
    }

    /// <summary>Proposes the way back from a change that was applied.</summary>
    /// <returns>The proposal, or why there is none.</returns>
    public (WayBack Answer, Proposal? Proposal) Undo(Guid id, Moment now) => _amendments.Undo(id, View, mayRaise: !Watching, now);

    /// <summary>Proposes to mute the inputs of a proposal first, so that its increase is heard by nobody at once.</summary>
    /// <returns>The mute proposal; <see langword="null"/> where there is no such proposal, or nothing to mute.</returns>
    public Proposal? MuteFirst(Guid id, Moment now) => _amendments.MuteFirst(id, now);

    /// <summary>Proposes the first step of a plan that comes from elsewhere than a check.</summary>
    /// <returns>The proposal; <see langword="null"/> where the desk's value is not known or nothing is left to do.</returns>
    public Proposal? Propose(TrimPlan plan, Moment now) => _proposals.Propose(_rises?.Fit(plan) ?? plan, now, ProposalLife.Trim);

    /// <summary>Whether somebody who is not the engineer may confirm a proposal as the desk stands now, and as this session has gone.</summary>
    public bool MayConfirm(Proposal proposal, ConfirmerLimits limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        return limits.Allow(proposal, Desk, _settings) && _ceiling.Allows(proposal, _settings);
    }

    /// <summary>The stage asks for a safe patch of an input.</summary>
    public SafePatch AskForPatch(int input, string? reason, Moment now)
    {
        _ears.Replugged(input);
        return Patches.Ask(input, reason, Link, now);
    }

    /// <summary>The engineer says no.</summary>
    /// <returns>The proposal as it stands; <see langword="null"/> where there is none.</returns>
    public Proposal? Decline(Guid id, Moment now)
    {
        if (Book.Find(id) is not { IsOpen: true } proposal)
            return Book.Find(id);
        var declined = Book.Move(proposal.Id, ProposalState.Declined, OutcomeSayings.ClosedDeclined);
        _proposals.Follow(declined, now);
        Patches.Look(Link, now);
        return declined;
    }

    /// <summary>Takes in how a write ended, and opens the next step of its sequence.</summary>
    public Proposal Settle(Guid id, WriteOutcome outcome, Moment now)
    {
        var settled = Gate.Settle(id, outcome);
        _proposals.Follow(settled, now);
        Patches.Look(Link, now);
        return settled;
    }

    /// <summary>One input as it stands now.</summary>
    public LiveInput Input(int input)
    {
        var settings = _settings(input);
        var live = _ears.Live(settings, stale: Link != LinkState.Live);
        return Link == LinkState.Live ? live with { Advice = _advice.Of(settings, _tickedAt) } : live;
    }

    /// <summary>One input as it was last known: while no meters come, what was heard before stands and only the level now is missing.</summary>
    public LiveInput LastKnown(int input) => Link == LinkState.Live
        ? Input(input)
        : _ears.Live(_settings(input), stale: false) with { PeakDbfs = null, RmsDbfs = null, Activity = Activity.Unknown };

    private void TakeFindings(Moment now)
    {
        while (_found.TryTake(out var finding))
        {
            _ears.CutOut(finding);
            _findings.Take(finding, Watching || _checks.ListensTo(finding.Input), now);
        }
    }

    private PatchLevels LevelsOf(int input)
    {
        var report = _ears.Report(input);
        return new(report.Peak?.Value, report.NoiseFloor?.Value, _settings(input).Trim?.Value);
    }
}
