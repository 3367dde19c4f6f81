using TrimAssist.Core.Meters;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// Puts the values of all sources together into one reading per input and frame. A reading goes out as soon as its last source has spoken,
/// or when the leading source's next frame begins, or after one frame; a source that stays silent for three frames is not waited for.
/// </summary>
internal sealed class MeterHub
{
    // Older companions belong to the frame before.
    private const double OldCompanion = 0.75;
    private readonly IMeterTarget _target;
    private readonly MeterSlot[] _slots;
    private readonly double _frameS;
    private int _waiting;

    public MeterHub(DeskProfile profile, IMeterTarget target)
    {
        _target = target;
        _slots = new MeterSlot[profile.Inputs];
        _frameS = profile.Meters.Min(m => m.Traits.FrameS);
        for (var input = 1; input <= profile.Inputs; input++)
        {
            var peak = FrameOf(profile, MeterQuantity.Peak, input);
            var rms = FrameOf(profile, MeterQuantity.Rms, input);
            _slots[input - 1].RmsLeads = rms is { } r && (peak is not { } p || r < p);
            _slots[input - 1].HasCompanion = peak is { } a && rms is { } b && Math.Max(a, b) < 1.5 * Math.Min(a, b);
        }
    }

    /// <summary>Takes in one value.</summary>
    /// <param name="quantity">Peak or RMS.</param>
    /// <param name="input">The desk input, from 1.</param>
    /// <param name="level">The level in dBFS.</param>
    /// <param name="timeS">The end of its frame.</param>
    /// <param name="now">The session's time.</param>
    public void Take(MeterQuantity quantity, int input, float level, double timeS, double now)
    {
        ref var slot = ref _slots[input - 1];
        if (slot.RmsLeads == (quantity == MeterQuantity.Rms))
            TakeLeader(ref slot, input, level, timeS, now);
        else
            TakeCompanion(ref slot, input, level, timeS, now);
    }

    /// <summary>Gives out what has waited for a whole frame.</summary>
    public void Tick(double now)
    {
        for (var i = 0; _waiting > 0 && i < _slots.Length; i++)
        {
            if (_slots[i].HasLeader && now - _slots[i].LeaderArrival >= _frameS)
                Release(ref _slots[i], i + 1, float.NaN);
        }
    }

    private void TakeLeader(ref MeterSlot slot, int input, float level, double timeS, double now)
    {
        if (slot.HasLeader)
            Release(ref slot, input, float.NaN);

        (slot.Leader, slot.LeaderTime, slot.LeaderArrival, slot.HasLeader) = (level, timeS, now, true);
        _waiting++;
        var fresh = slot.HasEarlyCompanion && (!slot.HasCompanion || now - slot.CompanionArrival < OldCompanion * _frameS);
        slot.HasEarlyCompanion = false;
        if (fresh)
            Release(ref slot, input, slot.Companion);
        else if (!slot.ShouldWait)
            Release(ref slot, input, float.NaN);
    }

    private void TakeCompanion(ref MeterSlot slot, int input, float level, double timeS, double now)
    {
        slot.Misses = 0;
        if (slot.HasLeader)
        {
            Release(ref slot, input, level);
            return;
        }

        // A second companion without a leader between them: the leader is lost, the companion is not.
        if (slot.HasEarlyCompanion)
            Give(ref slot, input, slot.CompanionTime, float.NaN, slot.Companion);
        (slot.Companion, slot.CompanionTime, slot.CompanionArrival, slot.HasEarlyCompanion) = (level, timeS, now, true);
    }

    private void Release(ref MeterSlot slot, int input, float companion)
    {
        _waiting--;
        slot.HasLeader = false;
        if (float.IsNaN(companion) && slot.HasCompanion)
            slot.Misses = Math.Min(slot.Misses + 1, 1000);
        Give(ref slot, input, slot.LeaderTime, slot.Leader, companion);
    }

    private void Give(ref MeterSlot slot, int input, double timeS, float leader, float companion)
    {
        slot.LastTime = Math.Max(slot.LastTime, timeS);
        _target.Give(slot.RmsLeads
            ? new MeterReading(input, slot.LastTime, companion, leader)
            : new MeterReading(input, slot.LastTime, leader, companion));
    }

    private static double? FrameOf(DeskProfile profile, MeterQuantity quantity, int input) =>
        profile.Meters.FirstOrDefault(m => m.Quantity == quantity && m.CoveredInputs(profile.Inputs).Contains(input))?.Traits.FrameS;
}
