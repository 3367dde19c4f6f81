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
    private readonly Coherence _stage;
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

    public JumpListener(int input, JumpOptions options, Coherence stage, Voice voice)
    {
        (_input, _options, _stage, _voice) = (input, options, stage, voice);
        _pool = new FramePool(options.Meter.FrameS);
        var frameS = FramePool.PooledS(options.Meter.FrameS);
        _history = new RecentReadings(frameS, options.SineCrestDb);
        stage.Join(_history);
        _rises = new RiseWatch(input, options, _history, stage, voice);
        _crackle = new CrackleWatch(_history);
        _ring = new RingWatch(_history);
        _dropout = new DropoutWatch(_history);
        _noise = new NoiseRiseWatch(frameS);
        _overload.FullScaleDbfs = (float)options.FullScaleDbfs;
    }

    /// <summary>The highest level that is expected of this input, in dBFS; NaN where nothing is.</summary>
    public float HighestExpectedDbfs { set => _hot.HighestDbfs = value; }

    public RiseTrace? Trace { set => _rises.Trace = value; }

    public void Observe(in MeterReading reading, FindingRing found)
    {
        if (float.IsNaN(reading.PeakDbfs) || !(reading.TimeS > _lastS) || !double.IsFinite(reading.TimeS))
            return;
        if (reading.TimeS - _lastS > GapFrames * _options.Meter.FrameS)
            Forget();
        _lastS = reading.TimeS;
        if (_muted && _options.Meter.FollowsMute is not false)
            return;
        _overload.Observe(reading.TimeS, reading.PeakDbfs, _input, _voice, found);
        _hot.Observe(reading.TimeS, reading.PeakDbfs, _input, _voice, found);
        if (_pool.Add(reading, out var pooled))
            Jumps(pooled, found);
        if (_pool.Waits && reading.TimeS >= _quietUntilS)
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

    private void Jumps(in MeterReading reading, FindingRing found)
    {
        _history.Push(_stage.FrameAt(reading.TimeS), reading.PeakDbfs, reading.RmsDbfs);
        if (reading.TimeS < _quietUntilS)
            return;
        _rises.Look(reading.TimeS, found);
        Crackle(reading, found);
        Ring(reading, found);
        Dropout(reading, found);
        if (_noise.Look(_history.Rms(0)))
            _voice.Raise(found, _input, FindingKind.NoiseRise, reading.TimeS, _noise.RoseDb, float.NaN);
    }

    private void Forget()
    {
        _pool.Clear();
        _history.Clear();
        _rises.Clear();
        _dropout.Clear();
        _noise.Clear();
    }

    private void Crackle(in MeterReading reading, FindingRing found)
    {
        if (_crackle.Look(reading.TimeS))
        {
            var bang = _rises.Last;
            if (_crackling.Finding.Id != 0)
                _crackling = _crackling with { SeenS = reading.TimeS };
            else if (bang.Id != 0 && bang.Kind == FindingKind.Pop && reading.TimeS - bang.TimeS < 1)
                _crackling = Say(_rises.HandOver() with { Kind = FindingKind.Crackle, Stage = FindingStage.Refined }, reading.TimeS, found);
            else
                _crackling = new(_voice.Raise(found, _input, FindingKind.Crackle, reading.TimeS, _history.Peak(2) - _history.Lowest(0, 4), _history.Peak(2)), reading.TimeS);
        }

        End(ref _crackling, reading.TimeS, found);
    }

    private void Ring(in MeterReading reading, FindingRing found)
    {
        if (_ring.Look())
        {
            _ringing = _ringing.Finding.Id != 0
                ? _ringing with { SeenS = reading.TimeS }
                : new(_voice.Raise(found, _input, FindingKind.Ring, reading.TimeS, _ring.GrowthDb, reading.PeakDbfs), reading.TimeS);
        }

        End(ref _ringing, reading.TimeS, found);
    }

    private void Dropout(in MeterReading reading, FindingRing found)
    {
        var bang = _rises.Last;
        var pulled = bang.Id != 0 && bang.Stage == FindingStage.Refined;
        if (_dropout.Look(reading.TimeS) && !(pulled && reading.TimeS - bang.TimeS < AfterBangS))
        {
            _away = _voice.Raise(found, _input, FindingKind.Dropout, reading.TimeS, -_dropout.FellDb, float.NaN);
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

    private static Lasting Say(in Finding finding, double timeS, FindingRing found)
    {
        found.Add(finding);
        return new(finding, timeS);
    }

    private static void End(ref Lasting lasting, double timeS, FindingRing found)
    {
        if (lasting.Finding.Id == 0 || timeS - lasting.SeenS <= OverAfterS)
            return;
        found.Add(lasting.Finding with { Stage = FindingStage.Ended });
        lasting = default;
    }

    private readonly record struct Lasting(Finding Finding, double SeenS);
}
