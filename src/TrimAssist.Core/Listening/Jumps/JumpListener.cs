using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Watches one input for everything that jumps. Allocates nothing after construction.</summary>
internal sealed class JumpListener
{
    /// <summary>After a change at the desk nothing is found for this long: the change itself is no event.</summary>
    private const double ChangeGuardS = 0.25;

    /// <summary>A gap this many frames long starts a new history.</summary>
    private const double GapFrames = 8;

    /// <summary>A crackle or a ring is over when nothing more of it came for this long.</summary>
    private const double OverAfterS = 2;

    /// <summary>A level that falls away after a bang is a plug pulled, not a drop-out, for this long.</summary>
    private const double AfterBangS = 1.5;

    private readonly int _input;
    private readonly JumpOptions _options;
    private readonly FrameClock _clock;
    private readonly double _gapS;
    private readonly Voice _voice;
    private readonly FramePool _pool;
    private readonly RecentReadings _history;
    private readonly RiseWatch _rises;
    private readonly CrackleWatch _crackle;
    private readonly RingWatch _ring;
    private readonly DropoutWatch _dropout;
    private readonly NoiseRiseWatch _noise;
    private readonly OverloadWatch _overload = new();
    private readonly HotWatch _hot = new();
    private Lasting _crackling;
    private Lasting _ringing;
    private Finding _away;
    private double _lastS = double.NegativeInfinity;
    private double _quietUntilS = double.NegativeInfinity;
    private bool _muted;

    public JumpListener(int input, JumpOptions options, FrameClock clock, Coherence stage, Voice voice)
    {
        (_input, _options, _clock, _voice) = (input, options, clock, voice);
        _gapS = GapFrames * clock.FrameS;
        _pool = new FramePool(clock);
        _history = new RecentReadings(clock.PooledS, options.SineCrestDb);
        stage.Join(_history);
        _rises = new RiseWatch(input, options, _history, stage, voice);
        _crackle = new CrackleWatch(_history);
        _ring = new RingWatch(_history);
        _dropout = new DropoutWatch(_history);
        _noise = new NoiseRiseWatch(clock.PooledS);
        _overload.FullScaleDbfs = (float)options.FullScaleDbfs;
    }

    /// <summary>The highest level that is expected of this input, in dBFS; NaN where nothing is.</summary>
    public float HighestExpectedDbfs { set => _hot.HighestDbfs = value; }

    public RiseTrace? Trace { set => _rises.Trace = value; }

    public void Observe(in MeterReading reading, FindingRing found)
    {
        if (float.IsNaN(reading.PeakDbfs) || !(reading.TimeS > _lastS) || !double.IsFinite(reading.TimeS))
            return;
        if (reading.TimeS - _lastS > _gapS)
            Forget();
        _lastS = reading.TimeS;
        if (_muted && _options.Meter.FollowsMute is not false)
            return;
        _overload.Observe(reading.TimeS, reading.PeakDbfs, _input, _voice, found);
        _hot.Observe(reading.TimeS, reading.PeakDbfs, _input, _voice, found);
        _clock.MoveTo(reading.TimeS);
        if (_clock.PoolFrames == 1)
            Jumps(new(_clock.Pooled, reading.TimeS, reading.PeakDbfs, reading.RmsDbfs), found);
        else
            Pool(reading, found);
    }

    private void Pool(in MeterReading reading, FindingRing found)
    {
        var lost = _pool.IsCutShort;
        if (lost)
            Jumps(_pool.Take(), found);
        _pool.Add(reading);
        if (_clock.EndsPool && !lost)
            Jumps(_pool.Take(), found);
        else if (reading.TimeS >= _quietUntilS)
            _rises.LookAhead(reading.TimeS, _pool.PeakDbfs, found);
    }

    /// <summary>Takes in that the desk's own overload flag is up.</summary>
    public void OverloadFlagged(double timeS, FindingRing found) => _overload.Flag(timeS, _input, _voice, found);

    /// <summary>Takes in a change made at the desk: what was heard before it says nothing about what comes.</summary>
    public void SettingsChanged(double timeS, bool? muted, double fullScaleDbfs)
    {
        _overload.FullScaleDbfs = (float)fullScaleDbfs;
        _muted = muted ?? _muted;
        _quietUntilS = timeS + ChangeGuardS;
        Forget();
    }

    private void Jumps(in PooledFrame frame, FindingRing found)
    {
        _history.Push(frame);
        if (frame.TimeS < _quietUntilS)
            return;
        // Saying something is kept out of here, with its findings to copy about: hardly any frame has something to say.
        _rises.Look(frame.TimeS, found);
        if (_crackle.Look(frame.TimeS))
            Crackle(frame.TimeS, found);
        if (_crackling.IsOver(frame.TimeS))
            End(ref _crackling, found);
        if (_ring.Look())
            Ring(frame, found);
        if (_ringing.IsOver(frame.TimeS))
            End(ref _ringing, found);
        var vanished = _dropout.Look(frame.TimeS);
        if (vanished || _away.Id != 0)
            Dropout(vanished, frame.TimeS, found);
        if (_noise.Look(_history.Rms(0)))
            NoiseRise(frame.TimeS, found);
    }

    private void Forget()
    {
        _pool.Clear();
        _history.Clear();
        _rises.Clear();
        _dropout.Clear();
        _noise.Clear();
    }

    private void Crackle(double timeS, FindingRing found)
    {
        var bang = _rises.Last;
        if (_crackling.Finding.Id != 0)
            _crackling = _crackling with { SeenS = timeS };
        else if (bang.Id != 0 && bang.Kind == FindingKind.Pop && timeS - bang.TimeS < 1)
            _crackling = Say(_rises.HandOver() with { Kind = FindingKind.Crackle, Stage = FindingStage.Refined }, timeS, found);
        else
            _crackling = new(_voice.Raise(found, _input, FindingKind.Crackle, timeS, _history.Peak(2) - _history.Lowest(0, 4), _history.Peak(2)), timeS);
    }

    private void Ring(in PooledFrame frame, FindingRing found)
    {
        _ringing = _ringing.Finding.Id != 0
            ? _ringing with { SeenS = frame.TimeS }
            : new(_voice.Raise(found, _input, FindingKind.Ring, frame.TimeS, _ring.GrowthDb, frame.PeakDbfs), frame.TimeS);
    }

    /// <summary>Says that the signal has just vanished, or what became of the drop-out that is on.</summary>
    private void Dropout(bool vanished, double timeS, FindingRing found)
    {
        var bang = _rises.Last;
        var pulled = bang.Id != 0 && bang.Stage == FindingStage.Refined;
        if (vanished && !(pulled && timeS - bang.TimeS < AfterBangS))
        {
            _away = _voice.Raise(found, _input, FindingKind.Dropout, timeS, -_dropout.FellDb, float.NaN);
        }
        else if (_away.Id != 0 && pulled && bang.TimeS < _away.TimeS && _away.TimeS - bang.TimeS < AfterBangS)
        {
            found.Add(_away with { Stage = FindingStage.Withdrawn });
            _away = default;
        }
        else if (_away.Id != 0 && !_dropout.Away)
        {
            found.Add(_away with { Stage = FindingStage.Ended });
            _away = default;
        }
    }

    private void NoiseRise(double timeS, FindingRing found) =>
        _voice.Raise(found, _input, FindingKind.NoiseRise, timeS, _noise.RoseDb, float.NaN);

    private static Lasting Say(in Finding finding, double timeS, FindingRing found)
    {
        found.Add(finding);
        return new(finding, timeS);
    }

    private static void End(ref Lasting lasting, FindingRing found)
    {
        found.Add(lasting.Finding with { Stage = FindingStage.Ended });
        lasting = default;
    }

    private readonly record struct Lasting(Finding Finding, double SeenS)
    {
        public bool IsOver(double timeS) => Finding.Id != 0 && timeS - SeenS > OverAfterS;
    }
}
