namespace TrimAssist.Service.Surfaces;

/// <summary>What a surface is shown.</summary>
/// <param name="Slots">Its slots in order.</param>
/// <param name="Alarm">The alarm that most needs an answer.</param>
/// <param name="Patches">The inputs whose safe patch was asked for and is under way.</param>
internal sealed record SurfacePicture(IReadOnlyList<SlotPicture> Slots, SlotPicture Alarm, IReadOnlyList<int> Patches)
{
    /// <summary>Whether whoever looks sees no difference.</summary>
    public bool IsSame(SurfacePicture? other) =>
        other is not null && Alarm == other.Alarm && Slots.SequenceEqual(other.Slots) && Patches.SequenceEqual(other.Patches);
}

/// <summary>One place of a surface.</summary>
/// <param name="State">How it stands.</param>
/// <param name="Text">What a press would answer, in one line; empty for nothing.</param>
/// <param name="Digest">The digest of the proposal, or the id of the alarm; empty for nothing.</param>
internal readonly record struct SlotPicture(SlotState State, string Text, string Digest);

/// <summary>How a place of a surface stands.</summary>
internal enum SlotState
{
    /// <summary>Nothing there.</summary>
    Empty,

    /// <summary>Something new: a press does nothing yet.</summary>
    Settling,

    /// <summary>A press is taken.</summary>
    Ready,

    /// <summary>It carries a danger that has to be named back, which no press can: answered on the page.</summary>
    OnThePage,
}
