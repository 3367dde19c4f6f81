using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Listening.Levels;

/// <summary>Listens to one input's meter through a check and says where the show's peak will lie.</summary>
/// <remarks>One thread at a time. <see cref="Observe"/> allocates nothing; memory is bounded, the last hour counts. Readings that run backwards, or say nothing, are counted and dropped.</remarks>
/// <param name="input">The desk input, from 1.</param>
/// <param name="traits">How the meter behaves.</param>
public sealed class LevelListener(int input, MeterTraits traits)
{
    /// <summary>How many settings of the gain are remembered.</summary>
    private const int MostStretches = 8;

    // a meter lags the desk's report of a change by a frame or two, in either direction
    private const double ChangeGuardS = 0.2;

    // two gains that lie closer tell nothing apart
    private const double SameGainDb = 0.5;

    // a scene recall turns every input at once, and the meters wait meanwhile: noise and clipping show in far less than an hour
    private const double LongestStretchS = 300;

    // thirty years: what claims to be later is no time
    private const double LatestS = 1e9;
    private readonly LevelTape _tape = new(traits.FrameS);
    private readonly FallBack _fallBack = new(traits.ReleaseDbPerS);
    private readonly StandstillWatch _standstill = new();
    private readonly OverloadCounter _overloads = new();
    private double _lastS = double.NegativeInfinity;
    private double? _gainDb;
    private double _fullScaleDbfs;
    private bool _heardRms;
    private double _gainSinceS;
    private IReadOnlyList<GainStretch> _earlier = [];

    /// <summary>Readings dropped because their time was not after the one before, or was no time at all.</summary>
    public int OutOfOrder { get; private set; }

    /// <summary>Readings without a number in them.</summary>
    public int Empty { get; private set; }

    /// <summary>How many seconds a report has to read.</summary>
    public double KeptS => _tape.Length * _tape.CellS;

    /// <summary>Takes one frame. Allocates nothing.</summary>
    public void Observe(in MeterReading reading)
    {
        if (!(reading.TimeS > _lastS) || reading.TimeS is < 0 or > LatestS)
        {
            OutOfOrder++;
            return;
        }

        _lastS = reading.TimeS;
        if (float.IsNaN(reading.PeakDbfs) && float.IsNaN(reading.RmsDbfs))
        {
            Empty++;
            return;
        }

        double peak = reading.PeakDbfs, rms = reading.RmsDbfs;
        _overloads.Observe(reading.TimeS, peak, _fullScaleDbfs);
        _standstill.Observe(reading.TimeS, double.IsNaN(peak) ? rms : peak);
        if (_standstill.StuckSinceS is { } since)
            _tape.Cut(since, reading.TimeS);
        if (_fallBack.IsFalling(reading.TimeS, peak))
            peak = double.NaN;
        _heardRms |= !double.IsNaN(rms);
        var gain = _gainDb ?? 0;
        _tape.Add(reading.TimeS - traits.FrameS / 2, peak - gain, (_heardRms ? rms : peak) - gain);
    }

    /// <summary>Cuts a stretch out: what was heard in it was no playing. It may reach a little ahead.</summary>
    public void Exclude(double fromS, double untilS) => _tape.Cut(fromS, untilS);

    /// <summary>Takes note of the desk's settings. Frames heard before are from now on read as they would be at the new gain.</summary>
    /// <param name="timeS">When, in the readings' time.</param>
    /// <param name="gainDb">Gain before the tap: trim, less the pad where it is in. The first one heard changes nothing.</param>
    /// <param name="fullScaleDbfs">Full scale at the tap: 0, plus the trim where that is digital and before the tap.</param>
    public void SettingsChanged(double timeS, double gainDb, double fullScaleDbfs = 0)
    {
        if (_gainDb is null)
        {
            _tape.Raise(-gainDb);
        }
        else if (_gainDb != gainDb)
        {
            (_earlier, _gainSinceS) = (Stretches, timeS);
            _tape.Cut(timeS - ChangeGuardS, timeS + ChangeGuardS);
        }

        (_gainDb, _fullScaleDbfs) = (gainDb, fullScaleDbfs);
    }

    /// <summary>What was heard at each setting of the gain, the present one last; the newest of each.</summary>
    public IReadOnlyList<GainStretch> Stretches => Present() is { } present
        ? [.. _earlier.Where(one => Math.Abs(one.GainDb - present.GainDb) > SameGainDb).TakeLast(MostStretches - 1), present]
        : _earlier;

    /// <summary>Takes over what another listener heard of this input at other settings.</summary>
    public void Inherit(LevelListener before) => _earlier = before.Stretches;

    /// <summary>Another source hangs on the input: what was heard at other settings says nothing about it.</summary>
    public void ForgetStretches() => (_earlier, _gainSinceS) = ([], _lastS);

    /// <summary>Says what was heard so far. Works on a copy of the tape: call it when a person looks, not every frame.</summary>
    public InputReport Report(ReportOptions options) =>
        Check.Of(input, _tape.Read(_gainDb ?? 0), new CheckFacts(_fullScaleDbfs, _overloads.Count, _standstill.Count), options);

    private GainStretch? Present() => _gainDb is { } gain && _lastS - _gainSinceS >= StretchReader.LeastS
        ? StretchReader.Of(_tape.Read(gain, Math.Max(_gainSinceS, _lastS - LongestStretchS)), gain, _fullScaleDbfs)
        : null;
}
