using TrimAssist.Core.Acts;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Assist;

/// <summary>A rehearsal room without an engineer: its checks begin and finish by themselves. Their proposals stand as any others, and are confirmed by people.</summary>
/// <param name="desk">The desk.</param>
/// <param name="acts">Who plays where.</param>
/// <param name="ears">What is heard.</param>
/// <param name="checks">The desk's checks.</param>
/// <param name="options">How the room works.</param>
/// <param name="beginSession">Called when another session begins.</param>
internal sealed class RehearsalRoom(DeskDescription desk, ActStage acts, Ears ears, CheckRoom checks, RehearsalOptions options, Action beginSession)
{
    /// <summary>After so long without playing the next band has come, or the same one on another day.</summary>
    private static readonly TimeSpan SessionEndsAfter = TimeSpan.FromHours(1);

    private readonly RehearsalListener _listener = new(desk.Inputs);
    private readonly RehearsalSchedule _schedule = new(options.ChecksAt, options.Zone);
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
        if (desk.GainDb(before) is { } was && desk.GainDb(after) is { } gain && was != gain)
            _listener.Refer(after.Input, gain - was);
    }

    /// <summary>Lets time pass: begins or finishes a check where it is time.</summary>
    public void Tick(bool watching, Moment now)
    {
        var latest = checks.Latest;
        var own = _own is { } id && checks.Find(id)?.State == CheckState.Listening;
        var sight = new RehearsalSight(watching, own, checks.Listens && !own, (latest?.FinishedAt ?? latest?.StartedAt)?.Elapsed, _schedule.Pass(now.Utc));
        switch (_listener.Pass(now.Elapsed, sight, input => ears.Recent(input)?.ActiveS ?? 0))
        {
            case RehearsalStep.Begin:
                Begin(CheckSayings.CheckBySound, now);
                break;
            case RehearsalStep.BeginByTheClock:
                Begin(CheckSayings.CheckByClock, now);
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

    private void Begin(Saying note, Moment now)
    {
        if (_listener.NobodyPlayed >= SessionEndsAfter)
            beginSession();
        _own = checks.Start([.. Enumerable.Range(1, desk.Inputs)], CheckAim.Headroom, now, note).Id;
    }
}
