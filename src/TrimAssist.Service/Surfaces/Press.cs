namespace TrimAssist.Service.Surfaces;

/// <summary>What a surface was pressed for.</summary>
internal enum PressKind
{
    /// <summary>Confirm the proposal in a slot.</summary>
    Confirm,

    /// <summary>Decline the proposal in a slot.</summary>
    Decline,

    /// <summary>Acknowledge the alarm that is shown.</summary>
    Acknowledge,

    /// <summary>Ask for a safe patch of an input.</summary>
    Patch,
}

/// <summary>One press.</summary>
/// <param name="Kind">What for.</param>
/// <param name="Number">The slot, or the input of a patch, from 1; 0 where there is only one.</param>
internal readonly record struct Press(PressKind Kind, int Number);
