namespace TrimAssist.Core.Alarms;

/// <summary>
/// Counts alarms against the yardstick of IEC 62682 and ISA-18.2: one group of alarms counts once, since it is shown once;
/// what a safe patch suppressed does not count. A day is remembered in bins of ten minutes.
/// </summary>
public sealed class AlarmRates
{
    /// <summary>A flood begins when more than this many come within ten minutes (ISA-18.2).</summary>
    public const int FloodAbove = 10;

    /// <summary>A flood is over when fewer than this many came within ten minutes (ISA-18.2).</summary>
    public const int FloodOverBelow = 5;

    /// <summary>An alarm that comes this often within a minute chatters (ISA-18.2).</summary>
    private const int ChattersAt = 3;

    private const int Bins = 144;
    private static readonly TimeSpan Bin = TimeSpan.FromMinutes(10);
    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);

    /// <summary>More than these within ten minutes are a flood all the same: no more need be remembered to say so.</summary>
    private const int MostRemembered = 4096;

    private readonly Queue<TimeSpan> _lastTenMinutes = new();
    private readonly int[] _bins = new int[Bins];
    private readonly int[] _byPriority = new int[Enum.GetValues<AlarmPriority>().Length];
    private readonly Dictionary<(AlarmKind Kind, int? Input), Source> _sources = [];
    private long _bin;
    private TimeSpan _looked;
    private TimeSpan _inFlood;
    private bool _flood;
    private long _chattering;

    /// <summary>Counts a new alarm that begins a group.</summary>
    public void Count(Alarm alarm)
    {
        var now = alarm.At.Elapsed;
        Look(now);
        _lastTenMinutes.Enqueue(now);
        if (_lastTenMinutes.Count > MostRemembered)
            _lastTenMinutes.Dequeue();
        _bins[_bin % Bins]++;
        _byPriority[(int)alarm.Priority]++;
        _flood |= _lastTenMinutes.Count > FloodAbove;
        var source = _sources.GetValueOrDefault((alarm.Kind, alarm.Input));
        _sources[(alarm.Kind, alarm.Input)] = source.Again(now, out var chatters);
        _chattering += chatters ? 1 : 0;
    }

    /// <summary>Lets time pass.</summary>
    public void Look(TimeSpan now)
    {
        while (_lastTenMinutes.TryPeek(out var oldest) && now - oldest >= Bin)
            _lastTenMinutes.Dequeue();
        if (_flood)
            _inFlood += now - _looked;
        if (_lastTenMinutes.Count < FloodOverBelow)
            _flood = false;
        for (var bin = now.Ticks / Bin.Ticks; _bin < bin;)
            _bins[++_bin % Bins] = 0;
        _looked = now;
    }

    /// <summary>The figures as they stand.</summary>
    /// <param name="standing">The alarms remembered, for those that stand for more than a day.</param>
    public AlarmFigures Figures(IEnumerable<Alarm> standing)
    {
        var all = _byPriority.Sum();
        var tenMinutes = Math.Max(1, _looked / Bin);
        return new(
            all,
            _lastTenMinutes.Count,
            _bins.Where((_, index) => ((_bin - index + Bins) % Bins) < 6).Sum(),
            _bins.Sum(),
            Math.Round(all / tenMinutes, 2),
            _bins.Max(),
            _flood,
            _looked > TimeSpan.Zero ? Math.Round(_inFlood / _looked, 4) : 0,
            Share(AlarmPriority.High),
            Share(AlarmPriority.Medium),
            Share(AlarmPriority.Low),
            all > 0 ? Math.Round((double)_sources.Values.OrderByDescending(source => source.Count).Take(10).Sum(source => source.Count) / all, 4) : null,
            _chattering,
            standing.Count(alarm => alarm.IsActive && _looked - alarm.At.Elapsed > TimeSpan.FromDays(1)));

        double? Share(AlarmPriority priority) => all > 0 ? Math.Round((double)_byPriority[(int)priority] / all, 4) : null;
    }

    private readonly record struct Source(long Count, TimeSpan Last, TimeSpan LastButOne)
    {
        // Every third within a minute is one bout of chatter.
        public Source Again(TimeSpan now, out bool chatters)
        {
            chatters = Count + 1 >= ChattersAt && now - LastButOne < Minute;
            return new(Count + 1, now, Last);
        }
    }
}

/// <summary>How many alarms there were, by the measures of IEC 62682. Shares are from 0 to 1, <see langword="null"/> where there was no alarm.</summary>
/// <param name="Alarms">Since the service began.</param>
/// <param name="LastTenMinutes">In the last ten minutes: about 1 is very likely acceptable, 2 the most that can be managed, above 10 is a flood.</param>
/// <param name="LastHour">In the last hour: about 6 is very likely acceptable, 12 the most that can be managed.</param>
/// <param name="LastDay">In the last day: about 144 is very likely acceptable.</param>
/// <param name="PerTenMinutes">On average.</param>
/// <param name="WorstTenMinutes">The worst ten minutes of the last day.</param>
/// <param name="Flood">Whether there is a flood now.</param>
/// <param name="FloodShare">The share of the time in flood: below 0.01 is the goal.</param>
/// <param name="HighShare">The share of high alarms: about 0.05 is the goal.</param>
/// <param name="MediumShare">The share of medium alarms: about 0.15.</param>
/// <param name="LowShare">The share of low alarms: about 0.8.</param>
/// <param name="TopTenShare">The share of the ten busiest sources: at most 0.05 is the goal, which few inputs alone make impossible.</param>
/// <param name="Chattering">How often an alarm came for the third time within a minute: 0 is the goal.</param>
/// <param name="Stale">How many stand for more than a day: fewer than 5 is the goal.</param>
public sealed record AlarmFigures(
    int Alarms, int LastTenMinutes, int LastHour, int LastDay, double PerTenMinutes, int WorstTenMinutes, bool Flood, double FloodShare,
    double? HighShare, double? MediumShare, double? LowShare, double? TopTenShare, long Chattering, int Stale);
