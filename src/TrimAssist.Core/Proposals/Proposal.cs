using TrimAssist.Core.Desks;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Proposals;

/// <summary>One change as it is shown to the engineer. Only what stands here can be confirmed.</summary>
public sealed record Proposal
{
    /// <summary>The proposal's id.</summary>
    public required Guid Id { get; init; }

    /// <summary>The desk's id.</summary>
    public required string Desk { get; init; }

    /// <summary>The inputs it changes: two for a linked pair.</summary>
    public required IReadOnlyList<int> Inputs { get; init; }

    /// <summary>The socket whose preamp it changes, where the desk says which.</summary>
    public string? Socket { get; init; }

    /// <summary>What it changes.</summary>
    public required ProposalKind Kind { get; init; }

    /// <summary>The value that the desk has now.</summary>
    public required SettingValue From { get; init; }

    /// <summary>The value proposed.</summary>
    public required SettingValue To { get; init; }

    /// <summary>Why, in one plain sentence.</summary>
    public required Saying Reason { get; init; }

    /// <summary>The figures behind the reason.</summary>
    public required ProposalEvidence Evidence { get; init; }

    /// <summary>Who else hears the change.</summary>
    public required IReadOnlyList<Saying> Affects { get; init; }

    /// <summary>The dangers that the confirmer must name back; see <see cref="Dangers"/>.</summary>
    public required IReadOnlyList<string> Needs { get; init; }

    /// <summary>Where it stands.</summary>
    public ProposalState State { get; init; }

    /// <summary>What a confirmation must name: covers id, desk, inputs, socket, kind, from, to and step.</summary>
    public required string Digest { get; init; }

    /// <summary>When it was made.</summary>
    public required Moment CreatedAt { get; init; }

    /// <summary>From when on it can no longer be confirmed.</summary>
    public required Moment ExpiresAt { get; init; }

    /// <summary>The sequence that it is a step of; its own id where it stands alone.</summary>
    public required Guid SequenceId { get; init; }

    /// <summary>Its place in the sequence, from 1.</summary>
    public int Step { get; init; } = 1;

    /// <summary>Number of steps in the sequence.</summary>
    public int Steps { get; init; } = 1;

    /// <summary>What became of it, in one sentence; <see langword="null"/> while it is open.</summary>
    public Saying? Outcome { get; init; }

    /// <summary>The first of <see cref="Inputs"/>.</summary>
    public int Input => Inputs[0];

    /// <summary>Whether it can still be confirmed, apart from its age.</summary>
    public bool IsOpen => State == ProposalState.Open;
}

/// <summary>Where a proposal stands.</summary>
public enum ProposalState
{
    /// <summary>Shown, waiting for the engineer.</summary>
    Open,

    /// <summary>Confirmed and written down; on its way to the desk.</summary>
    Confirmed,

    /// <summary>Read back from the desk within tolerance.</summary>
    Applied,

    /// <summary>Not sent, or the desk answered with another value.</summary>
    Failed,

    /// <summary>Sent, and not read back.</summary>
    Unknown,

    /// <summary>The engineer said no.</summary>
    Declined,

    /// <summary>Nobody answered in time.</summary>
    Expired,

    /// <summary>The desk moved, or a newer proposal took its place.</summary>
    Superseded,
}

/// <summary>The figures behind a proposal; <see langword="null"/> where one does not apply.</summary>
public sealed record ProposalEvidence
{
    /// <summary>Seconds of playing heard.</summary>
    public double? ActiveS { get; init; }

    /// <summary>Highest peak of the check's playing, dBFS.</summary>
    public double? PeakDbfs { get; init; }

    /// <summary>Level of the loudest passage, dBFS.</summary>
    public double? LoudestPassageDbfs { get; init; }

    /// <summary>Noise floor, dBFS.</summary>
    public double? NoiseFloorDbfs { get; init; }

    /// <summary>Lower end of the predicted show peak's 90 % interval at the check's trim, dBFS.</summary>
    public double? PredictedLowDbfs { get; init; }

    /// <summary>Predicted show peak at the check's trim, dBFS.</summary>
    public double? PredictedShowPeakDbfs { get; init; }

    /// <summary>Upper end of the interval, dBFS.</summary>
    public double? PredictedHighDbfs { get; init; }

    /// <summary>Where the show's peak should land, dBFS.</summary>
    public double? TargetPeakDbfs { get; init; }

    /// <summary>The dB added for what players hold back.</summary>
    public double? AllowanceDb { get; init; }

    /// <summary>The same in words, with where it comes from.</summary>
    public Saying? AllowanceBasis { get; init; }

    /// <summary>The peak of the show that a recall goes back to, dBFS.</summary>
    public double? ShowPeakDbfs { get; init; }

    /// <summary>low, medium or high.</summary>
    public string? Confidence { get; init; }

    /// <summary>The alarm that called for it.</summary>
    public Guid? AlarmId { get; init; }

    /// <summary>How far the level jumped, dB.</summary>
    public double? SizeDb { get; init; }
}
