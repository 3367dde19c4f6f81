using TrimAssist.DemoDesk.Band;
using TrimAssist.DemoDesk.Mixing;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>One act on the stage: its players and its mishaps, frame by frame.</summary>
internal sealed class Stage
{
    private const double SpillDb = 38;

    /// <summary>Noise of a line that nothing is plugged into.</summary>
    private const double DeadLineDbu = -110;

    private readonly Act _act;
    private readonly Dictionary<int, Line> _lines;
    private readonly Dictionary<int, Player> _players;
    private readonly Dictionary<PlannedMishap, Plug> _plugs;
    private readonly Chance _chance;
    private readonly HashSet<int> _banging = [];

    public Stage(Act act, ulong seed)
    {
        _act = act;
        _chance = Chance.For(seed, act.Name);
        _lines = act.Lines.ToDictionary(line => line.Input);
        _players = act.Lines.ToDictionary(
            line => line.Input, line => new Player(line.Kind, line.LoudestDbu, 60 / act.BeatsPerMinute, Chance.For(seed, line.Player ?? act.Name + line.Label)));
        _plugs = act.Mishaps.Where(IsPlug).ToDictionary(
            mishap => mishap, mishap => new Plug(mishap.PeakDbu, Chance.For(seed, $"{act.Name} plug {mishap.Input} {mishap.AtS}")));
    }

    /// <summary>The inputs whose last frame held a bang: it is no playing.</summary>
    public IReadOnlySet<int> Banging => _banging;

    /// <summary>The next frame of every input of the act through its preamp.</summary>
    public void Next(FestivalPhase phase, double phaseS, double frameS, IReadOnlyList<Preamp> preamps, Span<MeterPair> meters, Action<int> popped)
    {
        _banging.Clear();
        Span<SourceFrame> frames = stackalloc SourceFrame[meters.Length];
        frames.Fill(SourceFrame.Silence);
        var loudest = SourceFrame.SilentDbu;
        foreach (var line in _act.Lines)
        {
            frames[line.Input - 1] = _players[line.Input].Next(frameS, IsPlaying(line.Input, phase, phaseS), phase == FestivalPhase.Show);
            loudest = Math.Max(loudest, frames[line.Input - 1].RmsDbu - line.LoudestDbu);
        }

        for (var index = 0; index < meters.Length; index++)
        {
            var input = index + 1;
            var line = _lines.GetValueOrDefault(input);
            var plugged = line is not null && IsPlugged(input, phase, phaseS);
            var frame = plugged ? frames[index] : SourceFrame.Silence;
            if (plugged && line!.Kind.Microphone)
                frame = WithSpill(frame, line.LoudestDbu + loudest - SpillDb);
            frame = Happen(input, phase, phaseS, frameS, frame, popped);
            var peak = Math.Min(frame.PeakDbu, line?.CeilingDbu ?? double.PositiveInfinity);
            frame = frame with { PeakDbu = peak, RmsDbu = Math.Min(frame.RmsDbu, peak - 1) };
            meters[index] = preamps[index].Meter(frame, (plugged ? line!.Kind.NoiseDbu : DeadLineDbu) + _chance.Normal(0.4), frameS);
        }
    }

    private static bool IsPlug(PlannedMishap mishap) => mishap.What is Mishap.PlugPop or Mishap.UnplugPop;

    // What the microphones hear of everybody else.
    private static SourceFrame WithSpill(SourceFrame frame, double spillDbu) =>
        new(Math.Max(frame.PeakDbu, spillDbu + 9), Preamp.Sum(frame.RmsDbu, spillDbu));

    private bool IsPlaying(int input, FestivalPhase phase, double phaseS) =>
        phase is FestivalPhase.Check or FestivalPhase.Show && !MishapsOf(input).Any(mishap => mishap.Phase == phase && mishap.What switch
        {
            // Whoever has just plugged in turns up first; whoever is about to pull has let the last note die away.
            Mishap.PlugPop => phaseS < mishap.AtS + 2.5,
            Mishap.UnplugPop => phaseS >= mishap.AtS - (mishap.MidNote ? 0 : 2),
            _ => false,
        });

    // A plug that is pushed in has been out since the act came on; one that is pulled stays out.
    private bool IsPlugged(int input, FestivalPhase phase, double phaseS) => !MishapsOf(input).Any(mishap => mishap.What switch
    {
        Mishap.PlugPop => phase < mishap.Phase || (phase == mishap.Phase && phaseS < mishap.AtS),
        Mishap.UnplugPop => phase == mishap.Phase && phaseS >= mishap.AtS,
        _ => false,
    });

    private IEnumerable<PlannedMishap> MishapsOf(int input) => _act.Mishaps.Where(mishap => mishap.Input == input);

    private SourceFrame Happen(int input, FestivalPhase phase, double phaseS, double frameS, SourceFrame frame, Action<int> popped)
    {
        foreach (var mishap in MishapsOf(input).Where(one => one.Phase == phase))
        {
            var since = phaseS - mishap.AtS;
            switch (mishap.What)
            {
                case Mishap.UnplugPop or Mishap.PlugPop when since >= 0 && since < 1:
                    if (since < frameS)
                        popped(input);
                    var moment = _plugs[mishap].At(since, frameS);
                    frame = new(Math.Max(frame.PeakDbu, moment.PeakDbu), Preamp.Sum(frame.RmsDbu, moment.RmsDbu)) { Bang = moment.Bang };
                    break;
                case Mishap.Crackle when since is >= 0 and < 2 && _chance.Unit() < 0.35:
                    frame = frame with { Bang = new Bang(mishap.PeakDbu + _chance.Normal(3), 0.001) };
                    break;
                case Mishap.Boost when since is >= 0 and < 12:
                    frame = new(frame.PeakDbu + mishap.PeakDbu, frame.RmsDbu + mishap.PeakDbu);
                    break;
                case Mishap.Dropout when since is >= 0 and < 1.5:
                    frame = SourceFrame.Silence;
                    break;
                default:
                    break;
            }
        }

        if (frame.Bang is not null)
            _banging.Add(input);
        return frame;
    }
}
