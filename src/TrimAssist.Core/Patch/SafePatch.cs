using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Patch;

/// <summary>One plug changed on one input, from the stage's question to the opened input.</summary>
public sealed record SafePatch
{
    /// <summary>The paths that a mute has to close before a plug may be touched: what is heard in front, on stage, and on tape.</summary>
    public static readonly IReadOnlyList<string> Paths = ["main", "sends", "direct"];

    /// <summary>The patch's id.</summary>
    public required Guid Id { get; init; }

    /// <summary>The desk's id.</summary>
    public required string Desk { get; init; }

    /// <summary>The inputs: two for a linked pair. The one asked for comes first.</summary>
    public required IReadOnlyList<int> Inputs { get; init; }

    /// <summary>Why the stage asks, in its own words; <see langword="null"/> where it gave none.</summary>
    public string? Reason { get; init; }

    /// <summary>When it was asked for.</summary>
    public required Moment AskedAt { get; init; }

    /// <summary>Where it stands.</summary>
    public PatchState State { get; init; }

    /// <summary>What that means, in one sentence for the stage.</summary>
    public required string Text { get; init; }

    /// <summary>The paths that the mute leaves open.</summary>
    public required IReadOnlyList<string> OpenPaths { get; init; }

    /// <summary>Whether the input was muted before anybody asked: then it is never opened by the service.</summary>
    public required bool MutedBefore { get; init; }

    /// <summary>Whether phantom power is on; <see langword="null"/> where the desk has not said, which is no better than on.</summary>
    public bool? PhantomOn { get; init; }

    /// <summary>The proposal to mute; <see langword="null"/> where none was needed or none can be made yet.</summary>
    public Guid? MuteProposal { get; init; }

    /// <summary>The sequence that opens the input again; <see langword="null"/> before it is proposed.</summary>
    public Guid? OpeningSequence { get; init; }

    /// <summary>What the input sounded like before.</summary>
    public PatchLevels? Before { get; init; }

    /// <summary>What it sounds like now; <see langword="null"/> before it has settled, and where the meters follow the mute.</summary>
    public PatchLevels? After { get; init; }

    /// <summary>What the engineer should know before opening the input.</summary>
    public Saying? Advice { get; init; }

    /// <summary>The input asked for.</summary>
    public int Input => Inputs[0];

    /// <summary>Whether a plug may be in somebody's hand: the mute is read again and again, and bangs are no alarm.</summary>
    public bool IsHeld => State is PatchState.Safe or PatchState.Partly or PatchState.Settling;

    /// <summary>Whether it goes on.</summary>
    public bool IsUnderWay => IsHeld || State == PatchState.Waiting;

    /// <summary>The caution about phantom power; <see langword="null"/> where the desk says that it is off.</summary>
    public Saying? Caution => CautionOf(PhantomOn);

    /// <summary>The caution about phantom power by what the desk says of it.</summary>
    public static Saying? CautionOf(bool? phantomOn) => phantomOn switch
    {
        true => MuteSayings.PhantomOn,
        null => MuteSayings.PhantomUnknown,
        false => null,
    };
}
