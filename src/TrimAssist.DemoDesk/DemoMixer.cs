using TrimAssist.DemoDesk.Festival;
using TrimAssist.DemoDesk.Mixing;

namespace TrimAssist.DemoDesk;

/// <summary>The desk and the festival in front of it: makes one meter frame after the other, the same for the same seed and settings.</summary>
public sealed class DemoMixer
{
    /// <summary>Length of a meter frame.</summary>
    public const double FrameLengthS = 0.05;

    private readonly ulong _seed;
    private readonly Programme _programme;
    private readonly Preamp[] _preamps;
    private readonly MeterPair[] _meters;
    private readonly FestivalTruth _truth = new();
    private Stage _stage;
    private int _act;
    private FestivalPhase _phase;
    private long _phaseFrames;

    /// <summary>Puts the first act on the stage.</summary>
    /// <param name="seed">The same seed gives the same festival.</param>
    public DemoMixer(ulong seed)
        : this(seed, Programme.LanternFair)
    {
    }

    internal DemoMixer(ulong seed, Programme programme)
    {
        (_seed, _programme) = (seed, programme);
        _preamps = [.. Enumerable.Range(0, programme.Inputs).Select(_ => new Preamp())];
        _meters = new MeterPair[programme.Inputs];
        _stage = ComeOn();
    }

    /// <summary>Number of inputs.</summary>
    public int Inputs => _preamps.Length;

    /// <summary>Frames made so far.</summary>
    public long Frames { get; private set; }

    /// <summary>What really happened on the stage.</summary>
    public FestivalTruth Truth => _truth;

    /// <summary>How long the present phase lasts, in seconds.</summary>
    internal double PhaseLengthS => _programme.LengthS(_phase);

    /// <summary>Whether the stage waits for its turn: meters go on, the day stands still.</summary>
    internal bool IsHeld { get; set; }

    /// <summary>Where the festival stands.</summary>
    public FestivalMoment Moment => new(
        _act, _programme.Acts[_act].Name, _phase, _phaseFrames * FrameLengthS, [.. _programme.Acts[_act].Lines.Select(line => line.Input).Order()]);

    /// <summary>Number of acts.</summary>
    public int Acts => _programme.Acts.Count;

    /// <summary>Makes the next frame. The levels stay valid until the next call.</summary>
    /// <returns>The frame's meters by input, and whether an act has just come on, so that every value is new.</returns>
    public (ReadOnlyMemory<MeterPair> Meters, bool NewAct) Advance()
    {
        Frames++;
        _stage.Next(
            _phase, _phaseFrames * FrameLengthS, FrameLengthS, _preamps, _meters,
            input => _truth.Pop(new(_act, input, _phase, Muted(input), Frames * FrameLengthS)));
        foreach (var input in _stage.Banging)
            _truth.Bang(input, Frames * FrameLengthS);
        if (_phase == FestivalPhase.Show)
            _truth.Hear(_act, _programme.Acts[_act].Lines.Select(line => line.Input).Where(input => !_stage.Banging.Contains(input)), _meters);
        if (IsHeld)
            return (_meters, false);
        _phaseFrames++;
        return (_meters, NextPhase());
    }

    internal Preamp Input(int input) => _preamps[input - 1];

    private bool Muted(int input) => _preamps[input - 1].Muted;

    private bool NextPhase()
    {
        if (_phaseFrames * FrameLengthS < _programme.LengthS(_phase))
            return false;
        _phaseFrames = 0;
        _phase = _phase == FestivalPhase.Show ? FestivalPhase.Changeover : _phase + 1;
        if (_phase != FestivalPhase.Changeover)
            return false;
        _act = (_act + 1) % _programme.Acts.Count;
        _stage = ComeOn();
        return true;
    }

    private Stage ComeOn()
    {
        var act = _programme.Acts[_act];
        foreach (var preamp in _preamps)
        {
            preamp.Label = "";
            preamp.Muted = false;
        }

        foreach (var line in act.Lines)
        {
            var preamp = _preamps[line.Input - 1];
            preamp.Label = line.Label;
            preamp.SetTrim(line.TrimDb);
            preamp.PadOn = line.PadOn;
            preamp.PhantomOn = line.Kind.Name is "overhead" or "fiddle";
        }

        return new Stage(act, _seed);
    }
}
