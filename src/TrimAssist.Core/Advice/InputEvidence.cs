using TrimAssist.Core.Chain;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Units;

namespace TrimAssist.Core.Advice;

/// <summary>Everything that is known about an input when its chain is judged.</summary>
/// <param name="Desk">The desk.</param>
/// <param name="Settings">What the desk last said about the input.</param>
/// <param name="Report">What was heard, at the present gain.</param>
/// <param name="Stretches">What was heard at each setting of the gain, the present one last.</param>
/// <param name="Target">Where the show's peak should land.</param>
/// <param name="Chain">The chain before the desk's converter; <see langword="null"/> where nobody told it.</param>
public sealed record InputEvidence(
    DeskDescription Desk, InputSettings Settings, InputReport Report, IReadOnlyList<GainStretch> Stretches, Dbfs Target, SignalChain? Chain)
{
    /// <summary>The trim that would put the show's peak on the target, whether the desk has it or not; <see langword="null"/> where that is not known.</summary>
    public double? WantedTrimDb => Settings.Trim is { } now && Report.Prediction is { } show ? (now + (Target - show.Aim)).Value : null;

    /// <summary>The gain before the tap as it stands now.</summary>
    public double? GainDb => Desk.GainDb(Settings);
}
