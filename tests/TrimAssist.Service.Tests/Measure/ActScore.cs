using TrimAssist.Service.Measure;

namespace TrimAssist.Service.Tests.Measure;

/// <summary>Scores <c>measure</c> on the labelled acts by the rules of tests/corpus/score.py.</summary>
internal sealed class ActScore
{
    private static readonly string[] Alarms = ["pop", "crackle", "step-up", "ring"];
    private static readonly string[] Quiet = ["drop", "ambiguous", "quality", "info"];
    private readonly List<double> _landings = [];
    private readonly List<bool> _covered = [];
    private int _dangers;
    private int _found;
    private int _named;
    private int _loud;
    private int _loudFound;
    private int _false;
    private int _drops;
    private int _dropsFound;
    private int _dropsFalse;
    private double _hours;

    public double MeanLandingDb => _landings.Average(Math.Abs);

    public double Within6Db => Share(_landings.Count(landing => Math.Abs(landing) <= 6), _landings.Count);

    public int Landed => _landings.Count;

    public int Clips { get; private set; }

    public double Coverage => Share(_covered.Count(covered => covered), _covered.Count);

    public double Found => Share(_found, _dangers);

    public double Named => Share(_named, _found);

    public double LoudFound => Share(_loudFound, _loud);

    public double FalsePerHour => _false / _hours;

    public double DropsFound => Share(_dropsFound, _drops);

    public double FalseDropsPerHour => _dropsFalse / _hours;

    public static ActScore OfAll(int frameMs)
    {
        var (score, log) = (new ActScore(), Path.GetTempFileName());
        try
        {
            foreach (var act in LabelledAct.All())
            {
                foreach (var (name, take) in act.Takes)
                {
                    act.Unpack(name, frameMs, log);
                    var heard = FileMeasurer.Measure(log, new MeasureOptions(act.TargetDbfs)).Channels.ToDictionary(channel => channel.Channel);
                    foreach (var channel in act.Channels)
                        score.Take(act, channel, name == "check", take, heard[channel.Ch]);
                }
            }
        }
        finally
        {
            File.Delete(log);
        }

        return score;
    }

    private static double Share(int part, int whole) => part / (double)Math.Max(1, whole);

    private void Take(LabelledAct act, LabelledChannel truth, bool check, LabelledTake take, ChannelDocument heard)
    {
        _hours += take.DurationS / 3600;
        if (check)
            Landing(act, truth, heard);
        var mine = take.Events.Where(label => label.Ch == truth.Ch).ToList();
        foreach (var danger in mine.Where(label => label.IsDanger))
            Danger(danger, heard.Events);
        foreach (var drop in mine.Where(label => label.IsDrop))
        {
            _drops++;
            _dropsFound += heard.Events.Any(found => found.Kind == "dropout" && drop.Holds(found.TimeS, 1)) ? 1 : 0;
        }

        FalseAlarms(mine, heard.Events);
    }

    private void Landing(LabelledAct act, LabelledChannel truth, ChannelDocument heard)
    {
        var show = truth.ShowPeakDbu + truth.CheckTrimDb - truth.PadDb - act.FsDbu;
        if (heard.PredictedLowDbfs is { } low && heard.PredictedHighDbfs is { } high)
            _covered.Add(low <= show && show <= high);
        if (heard.Proposal is not { } proposal)
            return;
        var landing = show + proposal.TrimChangeDb - act.TargetDbfs;
        _landings.Add(landing);
        Clips += landing >= -act.TargetDbfs ? 1 : 0;
    }

    private void Danger(LabelledEvent danger, IReadOnlyList<EventDocument> events)
    {
        var kinds = events.Where(found => danger.Holds(found.TimeS, 0.15) && (Alarms.Contains(found.Kind) || found.Kind == "overload"))
            .Select(found => found.Kind).ToHashSet(StringComparer.Ordinal);
        string[] right = danger.Kind switch
        {
            "crackle" => ["pop", "crackle"],
            "pad_release" => ["step-up", "pop"],
            "feedback" => ["ring"],
            _ => ["pop"],
        };
        var loud = danger.PeakDbfs >= -20;
        _dangers++;
        _loud += loud ? 1 : 0;
        _found += kinds.Count > 0 ? 1 : 0;
        _loudFound += loud && kinds.Count > 0 ? 1 : 0;
        _named += kinds.Overlaps(right) ? 1 : 0;
    }

    private void FalseAlarms(List<LabelledEvent> mine, IReadOnlyList<EventDocument> events)
    {
        var last = double.NegativeInfinity;
        foreach (var found in events.OrderBy(found => found.TimeS))
        {
            if (found.Kind == "dropout" && !mine.Any(label => label.Class == "drop" && label.Holds(found.TimeS, 1)))
                _dropsFalse++;
            var excused = mine.Any(label => (label.Class == "alert" && label.Holds(found.TimeS, 0.15))
                || (Quiet.Contains(label.Class) && label.Holds(found.TimeS, 0.6))
                || (found.Kind == "step-up" && label.Kind == "boost_engage" && label.Holds(found.TimeS, 0.6)));
            if (!Alarms.Contains(found.Kind) || excused || found.TimeS - last <= 0.5)
                continue;
            last = found.TimeS;
            _false++;
        }
    }
}
