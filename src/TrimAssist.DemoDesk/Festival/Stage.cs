using TrimAssist.DemoDesk.Band;
using TrimAssist.DemoDesk.Mixing;

namespace TrimAssist.DemoDesk.Festival;

/// <summary>One act on the stage: its players and its mishaps, frame by frame.</summary>
internal sealed class Stage
{
    private const double SpillDb = 38;
    private const double SilentDbu = -140;

    private readonly Act _act;
    private readonly Dictionary<int, Player> _players;
    private readonly Chance _chance;

    public Stage(Act act, ulong seed)
    {
        _act = act;
        _chance = Chance.For(seed, act.Name);
        _players = act.Lines.ToDictionary(
            line => line.Input, line => new Player(line.Kind, line.LoudestDbu, 60 / act.BeatsPerMinute, Chance.For(seed, act.Name + line.Label)));
    }

    /// <summary>The next frame of every input of the act through its preamp.</summary>
    public void Next(FestivalPhase phase, double phaseS, double frameS, IReadOnlyList<Preamp> preamps, Span<MeterPair> meters, Action<int> popped)
    {
        var playing = phase is FestivalPhase.Check or FestivalPhase.Show;
        Span<SourceFrame> frames = stackalloc SourceFrame[meters.Length];
        frames.Fill(new(SilentDbu, SilentDbu));
        var loudest = SilentDbu;
        foreach (var line in _act.Lines)
        {
            frames[line.Input - 1] = _players[line.Input].Next(frameS, playing, phase == FestivalPhase.Show);
            loudest = Math.Max(loudest, frames[line.Input - 1].RmsDbu - line.LoudestDbu);
        }

        for (var index = 0; index < meters.Length; index++)
        {
            var line = _act.Lines.FirstOrDefault(one => one.Input == index + 1);
            var (peak, rms) = Happen(index + 1, phase, phaseS, frameS, frames[index], popped);
            if (line is not null)
            {
                // What the microphones hear of everybody else.
                var spill = line.LoudestDbu + loudest - SpillDb;
                (peak, rms) = (Math.Max(peak, spill + 9), Preamp.Sum(rms, spill));
                peak = Math.Min(peak, line.CeilingDbu);
                rms = Math.Min(rms, peak - 1);
            }

            meters[index] = preamps[index].Meter(peak, rms, (line?.Kind.NoiseDbu ?? -110) + _chance.Normal(0.4));
        }
    }

    private SourceFrame Happen(int input, FestivalPhase phase, double phaseS, double frameS, SourceFrame frame, Action<int> popped)
    {
        foreach (var mishap in _act.Mishaps.Where(one => one.Input == input && one.Phase == phase))
        {
            var since = phaseS - mishap.AtS;
            var first = since >= 0 && since < frameS;
            switch (mishap.What)
            {
                case Mishap.UnplugPop or Mishap.PlugPop when since >= 0 && since < 3 * frameS:
                    if (first)
                        popped(input);
                    // A bang of a few milliseconds: its RMS over a frame lies far below its peak; then the line is dead.
                    var bang = mishap.PeakDbu - (first ? 0 : since < 2 * frameS ? 22 : 45);
                    frame = new(bang, bang - 14);
                    break;
                case Mishap.UnplugPop when since >= 3 * frameS:
                    frame = new(SilentDbu, SilentDbu);
                    break;
                case Mishap.PlugPop when since < 0:
                    frame = new(SilentDbu, SilentDbu);
                    break;
                case Mishap.Crackle when since is >= 0 and < 2 && _chance.Unit() < 0.35:
                    var crack = mishap.PeakDbu + _chance.Normal(3);
                    frame = new(Math.Max(frame.PeakDbu, crack), Preamp.Sum(frame.RmsDbu, crack - 15));
                    break;
                case Mishap.Boost when since is >= 0 and < 12:
                    frame = new(frame.PeakDbu + mishap.PeakDbu, frame.RmsDbu + mishap.PeakDbu);
                    break;
                case Mishap.Dropout when since is >= 0 and < 1.5:
                    frame = new(SilentDbu, SilentDbu);
                    break;
                default:
                    break;
            }
        }

        return frame;
    }
}
