using TrimAssist.Core.Meters;

namespace TrimAssist.Core.Patch;

/// <summary>
/// Listens to a plugged input until it has been quiet or steady for two seconds. Blocks of a quarter second, the last eight
/// kept; hearing allocates nothing.
/// </summary>
public sealed class SettleWatch
{
    private const double BlockS = 0.25;
    private const int Blocks = 8;

    /// <summary>Below this an input is quiet whatever it does (common practice: well under any spill of a muted stage).</summary>
    private const double QuietDbfs = -60;

    /// <summary>Block peaks within this many dB of each other are steady: noise, hum, or somebody playing evenly (common practice).</summary>
    private const double SteadyWithinDb = 10;

    /// <summary>A window whose peaks stay this close to its own floor holds no playing (common practice: noise peaks about 12 dB over its RMS).</summary>
    private const double NoPlayingWithinDb = 15;

    /// <summary>What never falls below this is a sound that goes on, not a noise floor (common practice).</summary>
    private const double NoFloorAboveDbfs = -40;

    private readonly Block[] _blocks = new Block[Blocks];
    private Block _under;
    private double _beganS = double.NaN;
    private long _now = -1;
    private long _firstWhole;

    /// <summary>Whether the last two seconds were quiet or steady.</summary>
    public bool Settled
    {
        get
        {
            if (_now - _firstWhole < Blocks)
                return false;
            double top = double.NegativeInfinity, bottom = double.PositiveInfinity;
            foreach (var block in _blocks)
            {
                top = Math.Max(top, block.Peak);
                bottom = Math.Min(bottom, block.Peak);
            }

            return top <= QuietDbfs || top - bottom <= SteadyWithinDb;
        }
    }

    /// <summary>Hears one reading of the input, or of its pair.</summary>
    public void Hear(in MeterReading reading)
    {
        var peak = float.IsNaN(reading.PeakDbfs) ? reading.RmsDbfs : reading.PeakDbfs;
        if (float.IsNaN(peak))
            return;
        if (double.IsNaN(_beganS))
            _beganS = reading.TimeS;
        var index = (long)((reading.TimeS - _beganS) / BlockS);
        if (index > _now)
        {
            // A gap in the meters is nothing that was heard: two whole seconds begin anew after it.
            if (index > _now + 1)
                _firstWhole = index;
            if (_now >= 0)
                _blocks[_now % Blocks] = _under;
            _under = default;
            _now = index;
        }

        _under.Hear(peak, float.IsNaN(reading.RmsDbfs) ? peak : reading.RmsDbfs);
    }

    /// <summary>What the last two seconds sounded like.</summary>
    /// <param name="trimDb">The trim in dB; <see langword="null"/> where the desk has not said.</param>
    public PatchLevels Levels(double? trimDb)
    {
        var floor = _blocks.Min(block => block.Level);
        var peak = _blocks.Max(block => block.Peak);
        var sounds = floor > NoFloorAboveDbfs;
        var played = sounds || (peak > QuietDbfs && peak - floor > NoPlayingWithinDb);
        return new(played ? peak : null, !sounds && double.IsFinite(floor) ? floor : null, trimDb);
    }

    private struct Block
    {
        private double _peak;
        private double _energy;
        private int _frames;

        public readonly double Peak => _frames == 0 ? double.NegativeInfinity : _peak;

        public readonly double Level => _frames == 0 ? double.NegativeInfinity : 10 * Math.Log10(_energy / _frames);

        public void Hear(double peak, double level)
        {
            _peak = _frames == 0 ? peak : Math.Max(_peak, peak);
            _energy += Math.Pow(10, level / 10);
            _frames++;
        }
    }
}
