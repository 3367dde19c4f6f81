using TrimAssist.Core.Listening;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Checks;

/// <summary>Where a check stands.</summary>
public enum CheckState
{
    /// <summary>Listening.</summary>
    Listening,

    /// <summary>Finished; its proposals are made.</summary>
    Finished,

    /// <summary>Given up: a newer check took its inputs.</summary>
    Superseded,
}

/// <summary>What a check's proposals aim for.</summary>
public enum CheckAim
{
    /// <summary>Every input's loudest show peak on its target.</summary>
    Headroom,

    /// <summary>As before, but the louder inputs lower, so that the faders stand more alike: <see cref="EvenFaders"/>.</summary>
    EvenFaders,
}

/// <summary>One listening run over some inputs of a desk.</summary>
/// <param name="Id">The check's id.</param>
/// <param name="Desk">The desk's id.</param>
/// <param name="Inputs">The inputs listened to.</param>
/// <param name="State">Where it stands.</param>
/// <param name="StartedAt">When it began, or began again after a scene recall.</param>
/// <param name="FinishedAt">When it ended; <see langword="null"/> while it listens.</param>
/// <param name="Note">Something the engineer must know about the run; <see langword="null"/> where there is nothing.</param>
public sealed record SoundCheck(
    Guid Id, string Desk, IReadOnlyList<int> Inputs, CheckState State, Moment StartedAt, Moment? FinishedAt, Saying? Note)
{
    /// <summary>What its proposals aim for.</summary>
    public CheckAim Aim { get; init; }
}

/// <summary>What a check says about one input.</summary>
/// <param name="Report">What was heard.</param>
/// <param name="Advice">Why nothing is proposed, or a word beside the proposal.</param>
/// <param name="Proposal">The proposal made for it, once the check is finished.</param>
public sealed record CheckResult(InputReport Report, Saying? Advice, Guid? Proposal);
