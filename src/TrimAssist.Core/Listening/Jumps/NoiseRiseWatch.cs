namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Notices that an input's quiet has become louder and stays so: a ground lost, a lamp dimmer, a preamp left open.</summary>
internal sealed class NoiseRiseWatch(double frameS)
{
    private const int QuietSeconds = 3;
    private const float RiseDb = 10;
    private const float SteadyDb = 6;
    private const float LearnRate = 0.1f;

    private readonly int _blockFrames = Math.Max(2, (int)Math.Round(1 / frameS));
    private float _low = float.MaxValue;
    private float _high = float.MinValue;
    private int _inBlock;
    private int _risen;
    private int _blocks;
    private float _usual = float.NaN;

    /// <summary>How far the noise rose in dB.</summary>
    public float RoseDb { get; private set; }

    public void Clear() => (_low, _high, _inBlock, _risen, _blocks, _usual) = (float.MaxValue, float.MinValue, 0, 0, 0, float.NaN);

    /// <summary>Takes one frame's RMS; true when the quiet has been louder for three seconds.</summary>
    public bool Look(float rms)
    {
        _low = float.MinNative(_low, rms);
        _high = float.MaxNative(_high, rms);
        if (++_inBlock < _blockFrames)
            return false;
        var (low, steady) = (_low, _high - _low < SteadyDb);
        (_low, _high, _inBlock) = (float.MaxValue, float.MinValue, 0);
        if (float.IsNaN(_usual))
            _usual = low;
        _risen = steady && _blocks >= QuietSeconds && low > _usual + RiseDb ? _risen + 1 : 0;
        _blocks++;
        if (_risen == QuietSeconds)
        {
            RoseDb = low - _usual;
            _usual = low;
            return true;
        }

        if (low < _usual)
            _usual = low;
        else if (steady && low < _usual + RiseDb)
            _usual += LearnRate * (low - _usual);
        return false;
    }
}
