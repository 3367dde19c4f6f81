using TrimAssist.Core.Desks;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>
/// Makes proposals out of plans: gives them id, digest, dangers and life, and opens the next step of a sequence only when
/// the step before was read back from the desk.
/// </summary>
/// <param name="desk">The desk.</param>
/// <param name="book">Where the proposals stand.</param>
/// <param name="settings">What the desk last said about an input.</param>
/// <param name="newId">Makes ids.</param>
public sealed class ProposalDesk(DeskDescription desk, ProposalBook book, Func<int, InputSettings> settings, Func<Guid> newId)
{
    private readonly Dictionary<Guid, Sequence> _sequences = [];
    private HashSet<int> _patched = [];
    private bool _mayRaise = true;

    /// <summary>Proposes the first step of a plan. Steps that the desk already fulfils are left out.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="now">The moment.</param>
    /// <param name="life">How long each step may stand open.</param>
    /// <param name="forPatch">Whether a safe patch asks, whose mute it is while it is under way.</param>
    /// <returns>
    /// The proposal; <see langword="null"/> where the desk's value is not known, nothing is left to do, or the mute belongs to a safe patch.
    /// </returns>
    public Proposal? Propose(TrimPlan plan, Moment now, TimeSpan life, bool forPatch = false) =>
        plan.Steps.Count == 0 ? null : OpenNext(new Sequence(newId(), plan, life, plan.Steps.Count, 0, Guid.Empty, forPatch), now);

    /// <summary>
    /// Gives the mutes of these inputs, and of no others, to the safe patches that are under way: a plug may be in somebody's hand, so nothing
    /// else opens them, and nothing closes them in order to open them again. What stands open to unmute them is taken back.
    /// </summary>
    public void LeaveToPatches(IEnumerable<int> inputs)
    {
        _patched = [.. inputs];
        foreach (var open in book.Open.Where(open => open.Kind == ProposalKind.Unmute && IsPatched(open.Inputs) && !IsForPatch(open.SequenceId)).ToList())
            book.Move(open.Id, ProposalState.Superseded, OutcomeSayings.ClosedPatch);
    }

    /// <summary>Whether a safe patch of one of these inputs is under way.</summary>
    public bool IsPatched(IEnumerable<int> inputs) => inputs.Any(_patched.Contains);

    /// <summary>Takes in that a proposal of this desk ended, and opens or closes what hangs on it.</summary>
    /// <returns>The next step, where there is one.</returns>
    public Proposal? Follow(Proposal ended, Moment now)
    {
        if (ended.IsOpen || ended.State == ProposalState.Confirmed || !_sequences.Remove(ended.SequenceId, out var sequence))
            return null;
        if (ended.State == ProposalState.Applied)
            return OpenNext(sequence, now);
        if (sequence.Steps > 1)
            book.Explain(ended.Id, OutcomeSayings.SequenceClosed(Standing(sequence.Plan.Inputs[0])));
        return sequence.Plan.OpensWhenGivenUp && ended.Kind is not (ProposalKind.Mute or ProposalKind.Unmute)
            ? Propose(sequence.Plan with { Steps = [sequence.Plan.Steps[^1]], OpensWhenGivenUp = false }, now, sequence.Life)
            : null;
    }

    /// <summary>Closes the rest of every sequence whose last step has ended in another way than by a write: expired, superseded, declined.</summary>
    public void CloseEnded(Moment now)
    {
        foreach (var sequence in _sequences.Values.ToList())
        {
            if (book.Find(sequence.Current) is not { } last)
                _sequences.Remove(sequence.Id);
            else if (last.State is not (ProposalState.Open or ProposalState.Confirmed))
                Follow(last, now);
        }
    }

    /// <summary>Closes a sequence: its open step is taken back, and a step that is on its way is its last.</summary>
    public void Close(Guid sequence, Saying why)
    {
        _sequences.Remove(sequence);
        foreach (var open in book.Open.Where(open => open.SequenceId == sequence).ToList())
            book.Move(open.Id, ProposalState.Superseded, why);
    }

    /// <summary>While rises are forbidden none is proposed, and the open ones are taken back. Their sequences go on without them: what was muted is offered to be opened.</summary>
    public void MayRaise(bool may, Moment now)
    {
        _mayRaise = may;
        if (may)
            return;
        foreach (var rise in book.Open.Where(open => Dangers.RiseDb(open.Kind, open.From, open.To, desk) > 0).ToList())
        {
            book.Move(rise.Id, ProposalState.Superseded, OutcomeSayings.ClosedWatch);
            if (_sequences.Remove(rise.SequenceId, out var sequence))
                OpenNext(sequence, now);
        }
    }

    /// <summary>Looks at the dangers of every open proposal again: a mute opened or a fader raised since changes them.</summary>
    public void RenewDangers()
    {
        foreach (var open in book.Open.ToList())
            book.Renew(open.Id, NeedsOf(open.Kind, open.From, open.To, open.Inputs), AffectsOf(open.Kind, open.Inputs));
    }

    /// <summary>Closes the open proposals of these inputs: what they were made from no longer holds.</summary>
    public void Supersede(IEnumerable<int> inputs, Saying why) => Supersede(inputs, _ => true, why);

    /// <summary>
    /// Closes what an earlier check proposed for these inputs. A mute that stands alone was called for by a pop or by the stage, and stays; so does
    /// the offer to open what was muted on the way, which no later check would make again.
    /// </summary>
    public void SupersedeChecked(IEnumerable<int> inputs, Saying why) => Supersede(
        inputs, open => open is not ({ Kind: ProposalKind.Unmute } or { Steps: 1, Kind: ProposalKind.Mute }), why);

    /// <summary>Closes the open trim and pad proposals of an input.</summary>
    public void SupersedePreamp(int input, Saying why) => Supersede([input], open => open.Kind is ProposalKind.Trim or ProposalKind.Pad, why);

    /// <summary>Closes the open proposals whose starting value, or socket, the desk no longer has.</summary>
    public void SupersedeMoved(DeskView view)
    {
        foreach (var open in book.Open.Where(open => !view.StillHas(open)).ToList())
            book.Move(open.Id, ProposalState.Superseded, OutcomeSayings.ClosedMoved);
    }

    private void Supersede(IEnumerable<int> inputs, Func<Proposal, bool> which, Saying why)
    {
        foreach (var open in book.Open.Where(open => which(open) && open.Inputs.Intersect(inputs).Any()).ToList())
            book.Move(open.Id, ProposalState.Superseded, why);
    }

    private Proposal? OpenNext(Sequence sequence, Moment now)
    {
        for (var index = sequence.Next; index < sequence.Plan.Steps.Count; index++)
        {
            var planned = sequence.Plan.Steps[index];
            if (ControlValue.Of(settings(sequence.Plan.Inputs[0]), planned.Kind) is not { } from)
                return null;
            var step = Bounded(planned, from);
            if (from.Matches(step.To, desk.Trim?.ToleranceDb ?? 0) || (!_mayRaise && Dangers.RiseDb(step.Kind, from, step.To, desk) > 0))
                continue;
            if (!sequence.ForPatch && IsLeftToPatch(sequence.Plan, step))
            {
                if (book.Find(sequence.Current) is not null)
                    book.Explain(sequence.Current, OutcomeSayings.ClosedPatch);
                return null;
            }

            var proposal = Make(sequence, step, from, index + 1, now);
            _sequences[sequence.Id] = sequence with { Next = index + 1, Current = proposal.Id };
            book.Add(proposal);
            return proposal;
        }

        return null;
    }

    private PlannedStep Bounded(PlannedStep step, SettingValue from) =>
        step is { MostRiseDb: { } most, To.Db: { } goal } && desk.Trim is { } trim && from.Db is { } start && goal > start + most + PlannedStep.SlackDb
            ? step with { To = SettingValue.Gain(TrimGrid.AtMost(trim, start + most)) }
            : step;

    // A mute that stands alone is the safe direction: it is held back only where it would take the place of one that waits already.
    private bool IsLeftToPatch(TrimPlan plan, PlannedStep step) => IsPatched(plan.Inputs) && step.Kind switch
    {
        ProposalKind.Unmute => true,
        ProposalKind.Mute => plan.Steps.Count > 1 || book.Open.Any(open => open.Kind == ProposalKind.Mute && open.Inputs.Intersect(plan.Inputs).Any()),
        _ => false,
    };

    private Proposal Make(Sequence sequence, PlannedStep step, SettingValue from, int number, Moment now)
    {
        var inputs = sequence.Plan.Inputs;
        var id = newId();
        var socket = settings(inputs[0]).Socket;
        return new Proposal
        {
            Id = id,
            Desk = desk.Id,
            Inputs = inputs,
            Socket = socket,
            Kind = step.Kind,
            From = from,
            To = step.To,
            Reason = step.Reason,
            Evidence = sequence.Plan.Evidence,
            Affects = AffectsOf(step.Kind, inputs),
            Needs = NeedsOf(step.Kind, from, step.To, inputs),
            Digest = ProposalDigest.Of(id, desk.Id, inputs, socket, step.Kind, from, step.To, number),
            CreatedAt = now,
            ExpiresAt = now.After(sequence.Life),
            SequenceId = sequence.Id,
            Step = number,
            Steps = sequence.Steps,
        };
    }

    private IReadOnlyList<string> NeedsOf(ProposalKind kind, SettingValue from, SettingValue to, IReadOnlyList<int> inputs) =>
        Dangers.Of(kind, from, to, inputs.Select(settings), desk, SharingSocket(inputs).Any());

    private List<Saying> AffectsOf(ProposalKind kind, IReadOnlyList<int> inputs)
    {
        if (kind is ProposalKind.Mute or ProposalKind.Unmute)
            return [.. (desk.Mute?.Covers ?? []).Select(Saying.Plain)];
        var shared = (kind == ProposalKind.Pad ? desk.Pad?.SharedWith : desk.Trim?.SharedWith) ?? [];
        return [TrimSayings.AffectsSends, .. shared.Select(Saying.Plain), .. SharingSocket(inputs).Select(TrimSayings.AffectsInput)];
    }

    private IEnumerable<int> SharingSocket(IReadOnlyList<int> inputs)
    {
        var sockets = inputs.Select(input => settings(input).Socket).Where(socket => socket is not null).ToHashSet(StringComparer.Ordinal);
        return sockets.Count == 0
            ? []
            : Enumerable.Range(1, desk.Inputs).Where(other => !inputs.Contains(other) && sockets.Contains(settings(other).Socket));
    }

    private bool IsForPatch(Guid sequence) => _sequences.TryGetValue(sequence, out var known) && known.ForPatch;

    private Saying Standing(int input)
    {
        var now = settings(input);
        Saying?[] words =
        [
            now.Trim is { } trim ? ValueSayings.ValueTrim(trim.Value) : null,
            now.PadOn switch { true => ValueSayings.ValuePadIn, false => ValueSayings.ValuePadOut, null => null },
            now.Muted switch { true => ValueSayings.ValueMuted, false => ValueSayings.ValueOpen, null => ValueSayings.ValueMuteUnknown },
        ];
        return words.OfType<Saying>().Aggregate(ValueSayings.ValueList);
    }

    private sealed record Sequence(Guid Id, TrimPlan Plan, TimeSpan Life, int Steps, int Next, Guid Current, bool ForPatch);
}
