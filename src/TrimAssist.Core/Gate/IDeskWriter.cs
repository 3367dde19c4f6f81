using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Gate;

/// <summary>The only way by which a value reaches a desk.</summary>
public interface IDeskWriter
{
    /// <summary>
    /// Sends the change once and waits for the desk's answer: at most 3 seconds, asking the desk before giving up.
    /// Sends nothing when the desk's value is known to have left <see cref="ConfirmedChange.From"/>.
    /// </summary>
    /// <param name="change">The permission; it is used up by this call whatever comes of it.</param>
    /// <param name="cancellationToken">Ends the waiting, never a send that has begun.</param>
    Task<WriteOutcome> ApplyAsync(ConfirmedChange change, CancellationToken cancellationToken);
}

/// <summary>How a write ended.</summary>
public enum WriteResult
{
    /// <summary>The desk's value was read back within tolerance on every input.</summary>
    Applied,

    /// <summary>The desk answered with another value.</summary>
    Failed,

    /// <summary>Sent, and the desk never said what it did.</summary>
    Unknown,

    /// <summary>Nothing was sent: the value had moved, or the link was down.</summary>
    NotSent,
}

/// <summary>How a write ended, and what the desk said.</summary>
/// <param name="Result">How it ended.</param>
/// <param name="ReadBack">The value read back; <see langword="null"/> where the desk said nothing.</param>
/// <param name="Detail">One sentence for the engineer.</param>
public sealed record WriteOutcome(WriteResult Result, SettingValue? ReadBack, Saying Detail);
