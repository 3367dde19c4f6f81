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
    /// <summary>A report is worked out again at the most this often: it reads the whole tape.</summary>
    private const double ReportEveryS = 1;

    /// <summary>How much around a bang is cut out.</summary>
    private const double BangS = 0.2;

    /// <summary>Within this many dB of its noise floor an input is silent.</summary>
    private const double SilentWithinDb = 10;

    private readonly DeskDescription _desk;
    private readonly ActStage _acts;
    private readonly Ear[] _ears;
    private readonly StageListener _stage;

    public Ears(DeskDescription desk, ActStage acts)
    {
        _desk = desk;
        _acts = acts;
        _stage = new StageListener(desk.Inputs, desk.Meter);
        _ears = [.. Enumerable.Range(1, desk.Inputs).Select(input => new Ear(input, desk.Meter))];
    }

    /// <summary>Whether the show is on: its peaks are kept apart from the check's.</summary>
    public bool InShow { get; set; }

    /// <summary>Hears one reading. Allocates nothing.</summary>
    public void Hear(in MeterReading reading, FindingRing found)
    {
        var ear = _ears[reading.Input - 1];
        ear.Last = reading;
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
        var ear = new Ear(input, _desk.Meter) { Last = _ears[input - 1].Last, Show = _ears[input - 1].Show };
        if (_ears[input - 1].Gain is { } gain)
            ear.SetGain(gain, FullScale(gain.TrimDb));
        _ears[input - 1] = ear;
    }

    /// <summary>Another act is on: its show has not been heard.</summary>
    public void RestartShow()
    {
        foreach (var ear in _ears)
            ear.Show = new ShowPeakMeter();
    }

    /// <summary>What was heard of an input's show up to now.</summary>
    public ShowPeakMeter Show(int input)
    {
        _ears[input - 1].Show.End();
        return _ears[input - 1].Show;
    }

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
        _stage.SettingsChanged(after.Input, ear.Last.TimeS, FullScale(gain.TrimDb));
    }

    /// <summary>Cuts a bang out of what the levels are worked out from.</summary>
    public void CutOut(in Finding finding)
    {
        if (finding is not { Kind: FindingKind.Pop or FindingKind.Crackle, Stage: FindingStage.Raised })
            return;
        var ear = _ears[finding.Input - 1];
        ear.Levels.Exclude(finding.TimeS - BangS, finding.TimeS + BangS);
        ear.Show.CutOut(finding.TimeS - BangS, finding.TimeS + BangS);
    }

    /// <summary>What was heard on an input.</summary>
    public InputReport Report(int input) => _ears[input - 1].Levels.Report(_acts.OptionsOf(input));

    /// <summary>An input as it stands now.</summary>
    public LiveInput Live(InputSettings settings, bool stale)
    {
        var ear = _ears[settings.Input - 1];
        if (stale)
            return new LiveInput(settings, null, null, null, null, null, null, Activity.Unknown);
        var report = ear.Recent(() => _acts.OptionsOf(settings.Input), ReportEveryS);
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

    private readonly record struct Gain(double TrimDb, double PadDb);

    private sealed class Ear(int input, MeterTraits traits)
    {
        private InputReport? _report;
        private double _reportedS = double.NegativeInfinity;

        public LevelListener Levels { get; } = new(input, traits);

        public MeterReading Last { get; set; } = new(input, 0, float.NaN, float.NaN);

        public Gain? Gain { get; private set; }

        public ShowPeakMeter Show { get; set; } = new();

        public void SetGain(Gain gain, double fullScaleDbfs)
        {
            Gain = gain;
            Levels.SettingsChanged(Last.TimeS, gain.TrimDb - gain.PadDb, fullScaleDbfs);
        }

        public InputReport? Recent(Func<ReportOptions> options, double everyS)
        {
            if (Last.TimeS - _reportedS < everyS)
                return _report;
            _reportedS = Last.TimeS;
            return _report = Levels.Report(options());
        }
    }
}
