using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Jumps;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Assist;

/// <summary>The listeners of every input of a desk.</summary>
internal sealed class Ears
{
    /// <summary>A report reads the whole tape: it is worked out again at the most this often, and the more seldom the longer the tape.</summary>
    private const double ReportEveryS = 1;

    private const double TapeShare = 1 / 60.0;

    /// <summary>Seconds of tape that are read for reports between two readings: the meters wait meanwhile, so the other reports wait for the next.</summary>
    private const double TapeAtOnceS = 6000;

    /// <summary>A first word that nothing was added to for this long stands: a gap in the meters or a change at the desk came between.</summary>
    private const double StandsAfterS = AfterRise.WatchS + 0.2;

    /// <summary>Within this many dB of its noise floor an input is silent.</summary>
    private const double SilentWithinDb = 10;

    private readonly DeskDescription _desk;
    private readonly ActStage _acts;
    private readonly Ear[] _ears;
    private readonly StageListener _stage;
    private double _momentS = double.NaN;
    private double _tapeLeftS;

    public Ears(DeskDescription desk, ActStage acts)
    {
        _desk = desk;
        _acts = acts;
        _stage = new StageListener(desk.Inputs, desk.Meter);
        _ears = [.. Enumerable.Range(1, desk.Inputs).Select(input => new Ear(input, desk.Meter))];
    }

    /// <summary>Whether the show is on: its peaks are kept apart from the check's.</summary>
    public bool InShow { get; set; }

    /// <summary>The end of the newest reading, in the readings' time.</summary>
    public double NewestS { get; private set; }

    /// <summary>Hears one reading. Allocates nothing.</summary>
    public void Hear(in MeterReading reading, FindingRing found)
    {
        var ear = _ears[reading.Input - 1];
        ear.Last = reading;
        NewestS = reading.TimeS;
        if (ear.FirstWord.Id != 0 && reading.TimeS - ear.FirstWord.TimeS > StandsAfterS)
            ear.CutOutFirstWord();
        ear.Levels.Observe(reading);
        if (InShow && ear.Gain is { } gain)
            ear.Show.Observe(reading.TimeS, reading.PeakDbfs, gain.TrimDb - gain.PadDb, FullScale(gain.TrimDb));
        _stage.Observe(reading, found);
    }

    /// <summary>Takes in the desk's own overload flag.</summary>
    public void HearOverload(int input, double timeS, FindingRing found) => _stage.OverloadFlagged(input, timeS, found);

    /// <summary>Forgets the levels heard, as at the start of a check.</summary>
    public void Restart(int input)
    {
        var before = _ears[input - 1];
        var ear = new Ear(input, _desk.Meter) { Last = before.Last, Show = before.Show };
        if (before.Gain is { } gain)
            ear.SetGain(gain, FullScale(gain.TrimDb));
        ear.ShowHigh = before.ShowHigh;
        ear.Levels.Inherit(before.Levels);
        _ears[input - 1] = ear;
    }

    /// <summary>Another act is on: its show has not been heard.</summary>
    public void RestartShow()
    {
        foreach (var ear in _ears)
        {
            ear.Show = new ShowPeakMeter();
            ear.Levels.ForgetStretches();
        }
    }

    /// <summary>Something else is plugged into an input: what its noise did before is another's.</summary>
    public void Replugged(int input) => _ears[input - 1].Levels.ForgetStretches();

    /// <summary>What was heard on an input at each setting of its gain.</summary>
    public IReadOnlyList<GainStretch> Stretches(int input) => _ears[input - 1].Levels.Stretches;

    /// <summary>What was heard on an input up to a while ago; <see langword="null"/> before the first reading, and for a moment after many gains moved at once.</summary>
    public InputReport? Recent(int input)
    {
        var ear = _ears[input - 1];
        if (!ear.IsReportDue)
            return ear.Report;
        if (_momentS != NewestS)
            (_momentS, _tapeLeftS) = (NewestS, TapeAtOnceS);
        if (_tapeLeftS <= 0)
            return ear.Report;
        _tapeLeftS -= ear.Levels.KeptS;
        return ear.MakeReport(_acts.OptionsOf(input));
    }

    /// <summary>What was heard of an input's show up to now.</summary>
    public ShowPeakMeter Show(int input)
    {
        var ear = _ears[input - 1];
        if (ear.FirstWord.Id != 0)
            ear.CutOutFirstWord();
        ear.Show.End();
        return ear.Show;
    }

    /// <summary>What was heard of an input's show up to a second ago, while it goes on.</summary>
    public ShowPeakMeter ShowSoFar(int input) => _ears[input - 1].Show;

    /// <summary>Takes in a change of gain at the desk: what was heard is referred to the new gain, and the change itself is no event.</summary>
    public void Refer(InputSettings before, InputSettings after)
    {
        if (before.Muted != after.Muted && _desk.Meter.FollowsMute is not false)
        {
            // The meter goes silent or comes back with the mute: that is no drop-out and no pop.
            _stage.SettingsChanged(after.Input, _ears[after.Input - 1].Last.TimeS, FullScale(after.Trim?.Value ?? 0), after.Muted);
        }

        if (after.Trim is not { } trim || (before.Trim == after.Trim && before.PadOn == after.PadOn))
            return;
        var gain = new Gain(trim.Value, after.PadOn is true ? _desk.Pad?.PadDb ?? 0 : 0);
        var ear = _ears[after.Input - 1];
        ear.SetGain(gain, FullScale(gain.TrimDb));
        Expect(after.Input);
        _stage.SettingsChanged(after.Input, ear.Last.TimeS, FullScale(gain.TrimDb));
    }

    /// <summary>Notes for every input how loud it may get by what was heard of it, or forgets it: what is louder during a show is hot.</summary>
    public void ExpectShow(bool on)
    {
        for (var input = 1; input <= _ears.Length; input++)
        {
            var ear = _ears[input - 1];
            ear.ShowHigh = on && Report(input).Prediction is { } show ? show.High.Value - (ear.Gain?.Db ?? 0) : double.NaN;
            Expect(input);
        }
    }

    private void Expect(int input)
    {
        var ear = _ears[input - 1];
        _stage.Expect(input, (float)(ear.ShowHigh + (ear.Gain?.Db ?? 0)));
    }

    /// <summary>Cuts a bang out of what the levels are worked out from, once it is settled: what is taken back was playing, and stays in.</summary>
    public void CutOut(in Finding word)
    {
        var ear = _ears[word.Input - 1];
        // A first word is out with the frame that jumped; what is raised later is settled already, and crackle is known by its third click.
        if (word is { Stage: FindingStage.Raised, Kind: FindingKind.Pop } && word.TimeS >= ear.Last.TimeS)
        {
            ear.FirstWord = word;
            return;
        }

        if (ear.FirstWord.Id == word.Id)
            ear.FirstWord = default;
        if (word is { IsBang: true, Stage: FindingStage.Raised or FindingStage.Refined })
            ear.CutOut(word);
    }

    /// <summary>What was heard on an input.</summary>
    public InputReport Report(int input) => _ears[input - 1].Levels.Report(_acts.OptionsOf(input));

    /// <summary>An input as it stands now.</summary>
    public LiveInput Live(InputSettings settings, bool stale)
    {
        var ear = _ears[settings.Input - 1];
        if (stale)
            return new LiveInput(settings, null, null, null, null, null, null, Activity.Unknown);
        var report = Recent(settings.Input);
        double? peak = float.IsFinite(ear.Last.PeakDbfs) ? ear.Last.PeakDbfs : null;
        double? rms = float.IsFinite(ear.Last.RmsDbfs) ? ear.Last.RmsDbfs : null;
        return new LiveInput(
            settings, peak, rms, report?.Peak?.Value, report?.Loudest?.Level.Value, report?.NoiseFloor?.Value,
            report?.Prediction is { } show ? (show.Low.Value, show.Middle.Value, show.High.Value) : null,
            ActivityOf(rms ?? peak, report));
    }

    private double FullScale(double trimDb) => _desk.Meter.Tap == MeterTap.DigitalTrim ? trimDb : 0;

    private static Activity ActivityOf(double? level, InputReport? report) => (level, report?.NoiseFloor) switch
    {
        (null, _) or (_, null) => Activity.Unknown,
        ({ } now, { } floor) => now > floor.Value + SilentWithinDb ? Activity.Playing : Activity.Silent,
    };

    private readonly record struct Gain(double TrimDb, double PadDb)
    {
        public double Db => TrimDb - PadDb;
    }

    private sealed class Ear(int input, MeterTraits traits)
    {
        private double _reportedS = double.NegativeInfinity;

        public LevelListener Levels { get; } = new(input, traits);

        /// <summary>What was made out last; <see langword="null"/> where nothing was at the present gain.</summary>
        public InputReport? Report { get; private set; }

        public bool IsReportDue => Last.TimeS - _reportedS >= Math.Max(ReportEveryS, Levels.KeptS * TapeShare);

        public MeterReading Last { get; set; } = new(input, 0, float.NaN, float.NaN);

        public Gain? Gain { get; private set; }

        public ShowPeakMeter Show { get; set; } = new();

        /// <summary>Highest level expected in the show, less the gain; NaN where nothing is.</summary>
        public double ShowHigh { get; set; } = double.NaN;

        /// <summary>A pop that no later word has settled; its id is 0 where there is none.</summary>
        public Finding FirstWord { get; set; }

        public void CutOut(in Finding bang)
        {
            Levels.Exclude(bang.BangFromS, bang.BangUntilS);
            Show.CutOut(bang.BangFromS, bang.BangUntilS);
        }

        public void CutOutFirstWord()
        {
            CutOut(FirstWord);
            FirstWord = default;
        }

        public void SetGain(Gain gain, double fullScaleDbfs)
        {
            // what was expected before any gain was known holds at the first one heard
            if (Gain is null)
                ShowHigh -= gain.Db;
            Gain = gain;
            Levels.SettingsChanged(Last.TimeS, gain.Db, fullScaleDbfs);
            // what was reported is worth nothing at another gain
            (Report, _reportedS) = (null, double.NegativeInfinity);
        }

        public InputReport MakeReport(ReportOptions options)
        {
            (Report, _reportedS) = (Levels.Report(options), Last.TimeS);
            return Report;
        }
    }
}
