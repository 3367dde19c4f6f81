using TrimAssist.Core.Units;

namespace TrimAssist.Core.Chain;

/// <summary>The noise that one stage adds, in dBu over the audio band: at its output whatever its gain, or equivalent at its input (output noise less gain).</summary>
public readonly record struct StageNoise
{
    private StageNoise(Dbu level, bool followsGain) => (Level, FollowsGain) = (level, followsGain);

    /// <summary>The level, at the output or equivalent at the input.</summary>
    public Dbu Level { get; }

    /// <summary>Whether the noise rises with the stage's gain.</summary>
    public bool FollowsGain { get; }

    /// <summary>Noise found at the output at every gain.</summary>
    public static StageNoise AtOutput(Dbu level) => new(level, false);

    /// <summary>Equivalent input noise (IEC 60268-3): behind the pad, before the gain.</summary>
    public static StageNoise AtInput(Dbu level) => new(level, true);

    /// <summary>What is added at the output at a gain.</summary>
    public Dbu AtGain(Decibels gain) => FollowsGain ? Level + gain : Level;
}
