using TrimAssist.Core.Acts;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Time;

namespace TrimAssist.Core.Assist;

/// <summary>A rehearsal room without an engineer: its checks begin and finish by themselves. Their proposals stand as any others, and are confirmed by people.</summary>
internal sealed class RehearsalRoom(DeskDescription desk, ActStage acts, Ears ears, CheckRoom checks)
{
    private readonly RehearsalListener _listener = new(desk.Inputs);
    private Guid? _own;

    /// <summary>Hears one reading. Allocates nothing.</summary>
    public void Hear(in MeterReading reading)
    {
        if (acts.PlaysLive(reading.Input))
            _listener.Hear(reading.Input, float.IsNaN(reading.PeakDbfs) ? reading.RmsDbfs : reading.PeakDbfs);
    }

    /// <summary>Takes in what the desk said anew: a turned trim or an opened mute is no first sound.</summary>
    public void Refer(InputSettings before, InputSettings after)
    {
        if (before.Muted != after.Muted && desk.Meter.FollowsMute is not false)
            _listener.Forget(after.Input);
        if (Gain(before) is { } was && Gain(after) is { } gain && was != gain)
            _listener.Refer(after.Input, gain - was);
    }

    /// <summary>Lets time pass: begins or finishes a check where it is time.</summary>
    public void Tick(bool watching, Moment now)
    {
        var latest = checks.Latest;
        var own = _own is { } id && checks.Find(id)?.State == CheckState.Listening;
        var sight = new RehearsalSight(watching, own, checks.Listens && !own, (latest?.FinishedAt ?? latest?.StartedAt)?.Elapsed);
        switch (_listener.Pass(now.Elapsed, sight, input => ears.Recent(input)?.ActiveS ?? 0))
        {
            case RehearsalStep.Begin:
                _own = checks.Start([.. Enumerable.Range(1, desk.Inputs)], CheckAim.Headroom, now, "It began by itself with the first sound after silence.").Id;
                break;
            case RehearsalStep.Finish:
                Finish(mayRaise: !watching, now);
                break;
        }
    }

    /// <summary>A show begins: the check that began by itself, if one listens, is over.</summary>
    public void Finish(bool mayRaise, Moment now)
    {
        if (_own is { } own)
            checks.Finish(own, mayRaise, now);
        _own = null;
    }

    private double? Gain(InputSettings settings) => settings.Trim is { } trim ? trim.Value - (settings.PadOn is true ? desk.Pad?.PadDb ?? 0 : 0) : null;
}
