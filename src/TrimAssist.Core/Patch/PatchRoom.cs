using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Patch;

/// <summary>
/// The safe patches of one desk: at most one an input, the last one remembered. It proposes the mute and the opening, and
/// never sends anything itself. One owner: the desk's loop.
/// </summary>
/// <param name="desk">The desk.</param>
/// <param name="proposals">Makes proposals.</param>
/// <param name="book">Where the proposals stand.</param>
/// <param name="alarms">Where suppressed alarms go on when the patch is over.</param>
/// <param name="senses">What is known of an input.</param>
/// <param name="newId">Makes ids.</param>
/// <param name="changed">Told of every new patch and every change, in order.</param>
public sealed class PatchRoom(
    DeskDescription desk, ProposalDesk proposals, ProposalBook book, AlarmBoard alarms, PatchSenses senses, Func<Guid> newId, Action<SafePatch> changed)
{
    private readonly Seat?[] _seats = new Seat?[desk.Inputs];
    private readonly HashSet<int> _mutedByUs = [];

    /// <summary>Every patch remembered, each once.</summary>
    public IEnumerable<SafePatch> All => Seats.Select(seat => seat.Patch);

    /// <summary>The patches under way: their mutes have to be read again and again.</summary>
    public IEnumerable<SafePatch> UnderWay => All.Where(patch => patch.IsUnderWay);

    private IEnumerable<Seat> Seats => _seats.OfType<Seat>().Distinct();

    /// <summary>The patch of an input; <see langword="null"/> where none was asked for.</summary>
    public SafePatch? Find(int input) => _seats[input - 1]?.Patch;

    /// <summary>Whether somebody may hold this input's plug: its bangs are expected.</summary>
    public bool IsHeld(int input) => _seats[input - 1] is { Patch.IsHeld: true };

    /// <summary>How long <em>plug now</em> (or <em>partly</em>) still holds by the last reading of the mute; <see langword="null"/> in any other state.</summary>
    public TimeSpan? Lease(SafePatch patch) => patch.State is PatchState.Safe or PatchState.Partly && MuteAge(patch) is { } age && age < PatchRules.VerifiedWithin
        ? PatchRules.VerifiedWithin - age
        : null;

    /// <summary>The stage asks. A patch that is under way already is the answer to a second question.</summary>
    public SafePatch Ask(int input, string? reason, LinkState link, Moment now)
    {
        if (Find(input) is { IsUnderWay: true } underWay)
            return underWay;
        var pair = LinkedPair.Of(input, senses.Settings, desk.Inputs);
        var seat = new Seat(new SafePatch
        {
            Id = newId(),
            Desk = desk.Id,
            Inputs = [input, .. pair.Where(other => other != input)],
            Reason = reason,
            AskedAt = now,
            Text = "Wait: the engineer has to mute it first. Do not touch the plug.",
            OpenPaths = [.. SafePatch.Paths.Except(desk.Mute?.Covers ?? [], StringComparer.Ordinal)],
            MutedBefore = false,
            PhantomOn = Phantom(pair),
            Before = desk.Meter.FollowsMute is false ? senses.Levels(input) : null,
        });
        foreach (var one in pair)
            _seats[one - 1] = seat;
        changed(seat.Patch);
        TakeMutes();
        Look(seat, link, now);
        return seat.Patch;
    }

    /// <summary>The stage says that it has plugged.</summary>
    /// <returns>The patch; <see langword="null"/> where there is none.</returns>
    public SafePatch? Plugged(int input)
    {
        if (_seats[input - 1] is not { } seat)
            return null;
        var after = PatchRules.Plugged(seat.Patch);
        if (after.State == PatchState.Settling && seat.Patch.State != PatchState.Settling)
            seat.Watch = new SettleWatch();
        Put(seat, after);
        return seat.Patch;
    }

    /// <summary>Hears one reading. Allocates nothing.</summary>
    public void Hear(in MeterReading reading) => _seats[reading.Input - 1]?.Watch?.Hear(reading);

    /// <summary>Looks at every patch under way. Often enough that a lost mute is told within a second.</summary>
    public void Look(LinkState link, Moment now)
    {
        _mutedByUs.RemoveWhere(input => senses.Settings(input).Muted is false);
        foreach (var seat in Seats.Where(seat => seat.Patch.IsUnderWay))
            Look(seat, link, now);
    }

    private void Look(Seat seat, LinkState link, Moment now)
    {
        if (seat.Patch is { State: PatchState.Waiting, MuteProposal: null })
            BeginMute(seat, now);
        if (StateOf(seat.Patch.MuteProposal) == ProposalState.Applied)
            _mutedByUs.UnionWith(book.Find(seat.Patch.MuteProposal!.Value)!.Inputs);
        // An unmute that was on its way when the stage asked may land at any moment.
        var muted = IsBeingOpened(seat.Patch) ? null : Muted(seat.Patch.Inputs);
        var sight = new PatchSight(
            link, muted, MuteAge(seat.Patch) <= PatchRules.VerifiedWithin, StateOf(seat.Patch.MuteProposal), Opening(seat.Patch));
        var next = PatchRules.Next(seat.Patch with { PhantomOn = Phantom(seat.Patch.Inputs) }, sight);
        if (next.State == PatchState.Lost && seat.Patch.IsHeld && link == LinkState.Live && muted is false)
            WarnOfOpening(next, now);
        Put(seat, next);
        // The stage may ask anew, and plug again: nobody shall confirm what was proposed for the plug before.
        if (next is { State: PatchState.Lost, OpeningSequence: { } opening })
            proposals.Close(opening, OutcomeSayings.ClosedPatchLost);
        if (seat is { Patch: { State: PatchState.Settling, OpeningSequence: null }, Watch.Settled: true })
            Put(seat, Open(seat.Patch, seat.Watch, now));
    }

    private void BeginMute(Seat seat, Moment now)
    {
        var patch = seat.Patch;
        var open = patch.Inputs.Where(input => senses.Settings(input).Muted is false).Order().ToArray();
        if (open.Length == 0)
        {
            var known = Muted(patch.Inputs) is true;
            Put(seat, patch with { MutedBefore = known && !patch.Inputs.All(_mutedByUs.Contains) });
            return;
        }

        var why = patch.Reason is { } reason ? MuteSayings.MuteAsked(reason) : MuteSayings.MuteAskedPlain;
        var plan = new TrimPlan(open, [new(ProposalKind.Mute, SettingValue.Switch(true), why)], null, new ProposalEvidence());
        if (proposals.Propose(plan, now, ProposalLife.Patch, forPatch: true) is { } proposal)
            Put(seat, patch with { MuteProposal = proposal.Id, MutedBefore = false });
    }

    // Only what the service's own step closed is opened again, and what plays hotter than before comes down first.
    private SafePatch Open(SafePatch patch, SettleWatch watch, Moment now)
    {
        var after = desk.Meter.FollowsMute is false ? watch.Levels(senses.Settings(patch.Input).Trim?.Value) : null;
        var settled = patch with
        {
            After = after,
            Advice = after?.AdviceAfter(patch.Before) ?? MuteSayings.PatchUnheard,
        };
        var ours = patch.Inputs.Where(_mutedByUs.Contains).Order().ToArray();
        if (ours.Length == 0)
            return PatchRules.StaysMuted(settled, "Settled. It stays muted, as it was before the patch.");
        var opening = new PlannedStep(ProposalKind.Unmute, SettingValue.Switch(false), MuteSayings.PatchOpen(settled.Advice));
        PlannedStep[] steps = ours.Length == patch.Inputs.Count && LowerTrim(patch, after) is { } lower ? [lower, opening] : [opening];
        return proposals.Propose(new TrimPlan(ours, steps, null, new ProposalEvidence()), now, ProposalLife.Patch, forPatch: true) is { } proposal
            ? settled with { OpeningSequence = proposal.SequenceId, Text = "Settled. Waiting for the engineer to open it." }
            : PatchRules.StaysMuted(settled, "Settled. It stays muted: the desk has not said enough to open it.");
    }

    private PlannedStep? LowerTrim(SafePatch patch, PatchLevels? after)
    {
        if (!desk.Meter.GoodForTrims || desk.Trim is not { } trim || after?.TrimDb is not { } now || after.PeakOver(patch.Before) is not { } hotter || hotter < PatchLevels.HotterDb)
            return null;
        var goal = TrimGrid.AtMost(trim, now - hotter);
        return goal < now - trim.ToleranceDb
            ? new(ProposalKind.Trim, SettingValue.Gain(goal), MuteSayings.PatchHotter(hotter))
            : null;
    }

    private void WarnOfOpening(SafePatch patch, Moment now)
    {
        var alarm = alarms.Raise(
            AlarmKind.ValueMoved, patch.Input, now, priority: AlarmPriority.High, text: AlarmSayings.AlarmOpened);
        alarms.End(alarm.Id, now);
    }

    private void Put(Seat seat, SafePatch patch)
    {
        var before = seat.Patch;
        if (patch == before)
            return;
        seat.Patch = patch;
        if (!patch.IsUnderWay)
        {
            seat.Watch = null;
            TakeMutes();
        }

        if (before.IsHeld && !patch.IsHeld)
        {
            foreach (var input in patch.Inputs)
                alarms.Unsuppress(input);
        }

        changed(patch);
    }

    private void TakeMutes() => proposals.LeaveToPatches(UnderWay.SelectMany(patch => patch.Inputs));

    private bool IsBeingOpened(SafePatch patch) => patch.State == PatchState.Waiting && book.All.Any(
        one => one is { Kind: ProposalKind.Unmute, State: ProposalState.Confirmed or ProposalState.Unknown } && one.Inputs.Intersect(patch.Inputs).Any());

    private ProposalState? StateOf(Guid? proposal) => proposal is { } id ? book.Find(id)?.State : null;

    private Proposal? Opening(SafePatch patch) => patch.OpeningSequence is { } sequence ? book.All.FirstOrDefault(one => one.SequenceId == sequence) : null;

    private bool? Muted(IEnumerable<int> inputs) => Together(inputs, input => senses.Settings(input).Muted);

    // Off only where every half says so; anything unsaid is as bad as on.
    private bool? Phantom(IEnumerable<int> inputs) => Together(inputs, input => !senses.Settings(input).PhantomOn) is { } off ? !off : null;

    private TimeSpan? MuteAge(SafePatch patch) => patch.Inputs.Select(senses.MuteHeardAgo).Aggregate<TimeSpan?, TimeSpan?>(
        TimeSpan.Zero, (oldest, age) => oldest is null || age is null ? null : age > oldest ? age : oldest);

    private static bool? Together(IEnumerable<int> inputs, Func<int, bool?> of) =>
        inputs.Select(of).Aggregate<bool?, bool?>(true, (all, one) => all & one);

    private sealed class Seat(SafePatch patch)
    {
        public SafePatch Patch { get; set; } = patch;

        public SettleWatch? Watch { get; set; }
    }
}
