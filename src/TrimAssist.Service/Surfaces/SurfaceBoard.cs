using System.Globalization;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Surfaces;

/// <summary>
/// What stands in the slots of a control surface. A press answers the proposal that was shown: one that has stood in its slot unchanged, and
/// in pictures that were sent, for <see cref="Steady"/>. No I/O and no clock.
/// </summary>
/// <param name="slots">How many slots it has.</param>
internal sealed class SurfaceBoard(int slots)
{
    /// <summary>A slot that changed within this time takes no press: a finger on its way meant what stood there before.</summary>
    public static readonly TimeSpan Steady = TimeSpan.FromSeconds(1);

    private readonly SteadyThing<Proposal>[] _slots = [.. Enumerable.Range(0, slots).Select(_ => new SteadyThing<Proposal>())];
    private readonly SteadyThing<Alarm> _alarm = new();

    /// <summary>Puts the open proposals into the slots: each stays where it is, new ones take what is free.</summary>
    /// <param name="open">The open proposals, the oldest first.</param>
    /// <param name="alarms">The alarms that nobody has acknowledged, the oldest first. The one shown stays until it is, or a more urgent one comes.</param>
    public void Put(IReadOnlyList<Proposal> open, IReadOnlyList<Alarm> alarms)
    {
        foreach (var slot in _slots)
        {
            var now = slot.Thing is { } shown ? open.FirstOrDefault(one => one.Id == shown.Id) : null;
            slot.Put(now, now is not null && IsSame(now, slot.Thing!));
        }

        var waiting = new Queue<Proposal>(open.Where(one => !Array.Exists(_slots, slot => slot.Thing?.Id == one.Id)));
        foreach (var slot in _slots.Where(slot => slot.Thing is null))
        {
            if (waiting.TryDequeue(out var next))
                slot.Put(next, isSame: false);
        }

        // A mute is for the next seconds: where nothing is free it takes the place of what can wait.
        foreach (var mute in waiting.Where(one => one.Kind == ProposalKind.Mute))
        {
            if (Array.FindLast(_slots, slot => slot.Thing!.Kind != ProposalKind.Mute) is { } slot)
                slot.Put(mute, isSame: false);
        }

        var urgent = alarms.Count > 0 ? alarms.Max(one => one.Priority) : default;
        var alarm = alarms.FirstOrDefault(one => one.Id == _alarm.Thing?.Id && one.Priority == urgent) ?? alarms.FirstOrDefault(one => one.Priority == urgent);
        _alarm.Put(alarm, alarm is not null && alarm.Id == _alarm.Thing?.Id && alarm.Kind == _alarm.Thing.Kind);
    }

    /// <summary>What the surface is to show.</summary>
    /// <param name="now">The present moment.</param>
    /// <param name="patches">The inputs whose safe patch is under way.</param>
    public SurfacePicture Picture(TimeSpan now, params IReadOnlyList<int> patches) => new(
        [.. _slots.Select(slot => Picture(slot, now))],
        _alarm.Thing is { } alarm
            ? new(_alarm.IsSteady(now, Steady) ? SlotState.Ready : SlotState.Settling, Text(alarm), alarm.Id.ToString())
            : default(SlotPicture) with { Text = "", Digest = "" },
        patches);

    /// <summary>The picture has left for the surface.</summary>
    public void Left(TimeSpan now)
    {
        Array.ForEach(_slots, slot => slot.Left(now));
        _alarm.Left(now);
    }

    /// <summary>The picture could not be sent: nothing counts as shown any more.</summary>
    public void NotLeft()
    {
        Array.ForEach(_slots, slot => slot.NotLeft());
        _alarm.NotLeft();
    }

    /// <summary>What a slot says to a press.</summary>
    /// <param name="slot">The slot, from 1.</param>
    /// <param name="now">The present moment.</param>
    /// <param name="shown">The proposal that the press answers; <see langword="null"/> where the slot is empty or has just changed.</param>
    public SlotState Look(int slot, TimeSpan now, out Proposal? shown)
    {
        shown = null;
        if (slot < 1 || slot > _slots.Length || _slots[slot - 1].Thing is not { } there)
            return SlotState.Empty;
        if (!_slots[slot - 1].IsSteady(now, Steady))
            return SlotState.Settling;
        shown = there;
        return there.Needs.Count > 0 ? SlotState.OnThePage : SlotState.Ready;
    }

    /// <summary>The alarm that a press acknowledges; <see langword="null"/> where there is none or it has just come.</summary>
    public Alarm? LookAtAlarm(TimeSpan now) => _alarm.IsSteady(now, Steady) ? _alarm.Thing : null;

    private static SlotPicture Picture(SteadyThing<Proposal> slot, TimeSpan now)
    {
        if (slot.Thing is not { } shown)
            return new(SlotState.Empty, "", "");
        var state = shown.Needs.Count > 0 ? SlotState.OnThePage : slot.IsSteady(now, Steady) ? SlotState.Ready : SlotState.Settling;
        return new(state, Text(shown), shown.Digest);
    }

    // The digest covers whatever would be sent; the dangers stand beside it.
    private static bool IsSame(Proposal one, Proposal other) =>
        string.Equals(one.Digest, other.Digest, StringComparison.Ordinal) && one.Needs.SequenceEqual(other.Needs, StringComparer.Ordinal);

    private static string Text(Alarm alarm) => alarm.Input is { } input ? $"In {input}: {alarm.Text}" : alarm.Text;

    private static string Text(Proposal shown)
    {
        var inputs = string.Join('+', shown.Inputs);
        return shown.Kind switch
        {
            ProposalKind.Trim => string.Create(CultureInfo.InvariantCulture, $"In {inputs}: trim {shown.From.Db:0.##} -> {shown.To.Db:0.##} dB"),
            ProposalKind.Pad => $"In {inputs}: pad {(shown.To.On is true ? "in" : "out")}",
            ProposalKind.Mute => $"In {inputs}: mute",
            _ => $"In {inputs}: unmute",
        };
    }
}
