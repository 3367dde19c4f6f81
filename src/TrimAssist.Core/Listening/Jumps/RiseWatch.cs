namespace TrimAssist.Core.Listening.Jumps;

/// <summary>
/// Follows every rise of one input: speaks at once where it could hurt, and after half a second confirms, names or takes back.
/// </summary>
internal sealed class RiseWatch(int input, JumpOptions options, RecentReadings history, Coherence stage, Voice voice)
{
    /// <summary>What counts as a rise: over the last 0.1 s by this much and over the last second by a just visible bit.</summary>
    private const float RiseDb = 6;

    private const float OverSecondDb = 3;

    /// <summary>Quieter rises cannot hurt and are left alone.</summary>
    private const float FaintDbfs = -65;

    /// <summary>Without RMS every kind of evidence weighs less, music's as well: as much less is asked for, and half of it where the meter falls back. Chosen for under one false alarm an hour.</summary>
    private const float PeakOnlyEase = 1;

    /// <summary>One bang, one word.</summary>
    private const double ApartS = 0.5;

    private const int Room = 32;

    private readonly Pending[] _pending = new Pending[Room];
    private readonly RiseHabit _habit = new();
    private readonly AfterRise _after = new(history, new Hum(history));
    private readonly Hum _hum = new(history);
    private readonly UsualRest _usual = new(history.FrameS);
    private readonly float _still = StationaryNoise.SpreadDb(history.FrameS);
    private readonly int _watchFrames = history.Frames(AfterRise.WatchS);
    private readonly int _tenth = history.Frames(0.1);
    private readonly int _second = history.Frames(1);
    private readonly int _half = history.Frames(0.5);
    private long _first;
    private long _next;
    private float _loudest = RecentReadings.Silence;
    private Finding _last;
    private Finding _early;
    private int _handedOver;

    /// <summary>The latest pop that was raised or confirmed; its id is 0 where there was none.</summary>
    public Finding Last => _last;

    /// <summary>Hands the latest pop over to a watch that knows better what it is; no more is said about it here.</summary>
    public Finding HandOver()
    {
        _handedOver = _last.Id;
        return _last;
    }

    private float Ease => history.HasRms ? 0 : options.Meter.ReleaseDbPerS > 0 ? PeakOnlyEase / 2 : PeakOnlyEase;

    /// <summary>What the last judged rise weighed; for fitting and for the pictures.</summary>
    public RiseTrace? Trace { get; set; }

    public void Clear()
    {
        (_first, _next, _loudest, _early) = (0, 0, RecentReadings.Silence, default);
        _usual.Clear();
    }

    /// <summary>Looks at a frame that is still being filled: what could hurt is said at once.</summary>
    public void LookAhead(double timeS, float peak, FindingRing found)
    {
        // the cheap question before the look back: the newest of the last second is no higher than its highest
        if (_early.Id == 0 && history.Count > 2 && FirstWord.Matters(peak, peak - history.Peak(0)))
            _early = SayFirst(timeS, peak, peak - history.Highest(0, _second), 0, found);
    }

    public void Look(double timeS, FindingRing found)
    {
        var peak = history.Peak(0);
        var over = history.Count > 2 ? peak - history.Highest(1, _tenth) : 0;
        if (over > OverSecondDb)
            Rise(timeS, peak, over, found);
        if (_early.Id != 0)
            TakeBack(ref _early, found);
        while (_first < _next && history.Count - _pending[_first % Room].Count >= _watchFrames)
            Judge(ref _pending[_first++ % Room], found);
        _loudest = float.MaxNative(_loudest, peak);
        _usual.Add(peak);
    }

    private void Rise(double timeS, float peak, float over, FindingRing found)
    {
        var rise = Math.Clamp(peak - history.Highest(1, _half), 0, 20);
        if (rise > OverSecondDb)
            history.Rise(0) = rise;
        var jump = peak - history.Highest(1, _second);
        if (over >= RiseDb && jump >= OverSecondDb && peak >= FaintDbfs)
            Begin(timeS, peak, jump, found);
    }

    private void Begin(double timeS, float peak, float jump, FindingRing found)
    {
        if (_next - _first == Room)
            return;
        ref var rise = ref _pending[_next++ % Room];
        var said = _early.Id != 0 ? _early : SayFirst(timeS, peak, jump, 1, found);
        rise = new Pending(history.Count, timeS, history.Newest, _loudest, _usual.Dbfs, jump, said);
        _early = default;
    }

    /// <summary>Speaks where what is known with the rise itself is enough; <paramref name="before"/> is the newest frame before it.</summary>
    private Finding SayFirst(double timeS, float peak, float jump, int before, FindingRing found)
    {
        if (!FirstWord.Matters(peak, jump) || (_last.Id != 0 && timeS - _last.TimeS < ApartS))
            return default;
        Span<float> terms = stackalloc float[FirstWord.Terms];
        FirstWord.Weigh(history, _hum, _habit, peak, jump, before, _loudest, _usual.Dbfs, terms);
        var odds = FirstWord.LogOdds(terms) - (float)options.Strictness;
        Trace?.TakeFirst(timeS, odds, terms);
        if (odds > 0)
            _last = voice.Raise(found, input, FindingKind.Pop, timeS, jump, peak);
        return odds > 0 ? _last : default;
    }

    private static void TakeBack(ref Finding said, FindingRing found)
    {
        if (said.Id == 0)
            return;
        found.Add(said with { Stage = FindingStage.Withdrawn });
        said = default;
    }

    private void Judge(ref Pending rise, FindingRing found)
    {
        Span<float> shape = stackalloc float[RiseHabit.ShapeLength];
        Span<float> terms = stackalloc float[PopEvidence.Terms];
        var age = (int)(history.Count - rise.Count);
        var m = _after;
        m.Measure(age, faintHum: Trace is not null, shape);
        PopEvidence.Weigh(m, _habit, shape, m.Top - rise.Loudest, rise.UsualRest, _still, terms);
        var (odds, step) = (Odds(m, terms), IsStep(m, default));
        // what costs most to measure can only speak against an event: it is asked where there is one so far
        if (odds > 0 || step || Trace is not null)
        {
            var (lengthDb, others) = (m.LengthDb(age), stage.Around(history, rise.Frame));
            PopEvidence.WeighDear(m, lengthDb, others, terms);
            (odds, step) = (Odds(m, terms), IsStep(m, others));
            Trace?.Take(rise.TimeS, m, lengthDb, others, rise.UsualRest, odds, terms);
        }

        if (rise.Said.Id != 0 && rise.Said.Id == _handedOver)
            return;
        if (odds > 0 || step)
        {
            Confirm(rise, step ? FindingKind.StepUp : FindingKind.Pop, m, found);
        }
        else
        {
            _habit.Remember(shape, m.Top, rise.Jump);
            var said = rise.Said;
            TakeBack(ref said, found);
        }
    }

    private float Odds(AfterRise m, ReadOnlySpan<float> terms) => PopEvidence.LogOdds(m, terms) + Ease - (float)options.Strictness;

    private bool IsStep(AfterRise m, OtherInputs others) =>
        history.HasRms && options.Meter.ReleaseDbPerS <= 0 && StepWatch.IsStepOfNoise(m, others.Rises, _still);

    private void Confirm(in Pending rise, FindingKind kind, AfterRise m, FindingRing found)
    {
        var size = kind == FindingKind.StepUp ? m.End - m.Rest : rise.Jump;
        if (rise.Said.Id != 0)
        {
            _last = rise.Said with { Kind = kind, Stage = FindingStage.Refined, SizeDb = size, PeakDbfs = m.Top };
            found.Add(_last);
        }
        else if (rise.TimeS - _last.TimeS >= ApartS || _last.Id == 0 || _last.Stage == FindingStage.Raised)
        {
            _last = voice.Raise(found, input, kind, rise.TimeS, size, m.Top) with { Stage = FindingStage.Refined };
        }
    }

    private readonly record struct Pending(long Count, double TimeS, long Frame, float Loudest, float UsualRest, float Jump, Finding Said);
}
