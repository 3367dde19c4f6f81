using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Alarms;

/// <summary>What an alarm is about.</summary>
public enum AlarmKind
{
    /// <summary>A plug pulled or pushed on an open input.</summary>
    Pop,

    /// <summary>A bad cable.</summary>
    Crackle,

    /// <summary>A jump up that stays.</summary>
    StepUp,

    /// <summary>A jump down that stays.</summary>
    StepDown,

    /// <summary>The converter clips.</summary>
    Overload,

    /// <summary>An earlier stage clips.</summary>
    FlatTop,

    /// <summary>Louder than the check predicted.</summary>
    Hot,

    /// <summary>The signal vanished while playing.</summary>
    Dropout,

    /// <summary>Feedback building up.</summary>
    Ring,

    /// <summary>The noise floor rose.</summary>
    NoiseRise,

    /// <summary>The desk's meters stopped.</summary>
    DeskStale,

    /// <summary>Somebody moved a value that the service had set.</summary>
    ValueMoved,
}

/// <summary>How soon the engineer has to act.</summary>
public enum AlarmPriority
{
    /// <summary>When there is time.</summary>
    Low,

    /// <summary>Within the song.</summary>
    Medium,

    /// <summary>Now.</summary>
    High,
}

/// <summary>The states of an alarm, after ISA-18.2 and IEC 62682.</summary>
public enum AlarmState
{
    /// <summary>Acknowledged and over.</summary>
    Normal,

    /// <summary>New, nobody has said a word.</summary>
    Unacknowledged,

    /// <summary>Seen by the engineer, still going on.</summary>
    Acknowledged,

    /// <summary>Over, but nobody has said a word.</summary>
    Returned,

    /// <summary>Put aside by the engineer for a time.</summary>
    Shelved,

    /// <summary>Expected: a safe patch is under way.</summary>
    Suppressed,

    /// <summary>Later frames showed that it was nothing.</summary>
    Withdrawn,
}

/// <summary>One thing that calls for the engineer.</summary>
public sealed record Alarm
{
    /// <summary>The alarm's id; later words about it carry the same.</summary>
    public required Guid Id { get; init; }

    /// <summary>The alarms of one cause share this: the id of the first of them.</summary>
    public Guid GroupId { get; init; }

    /// <summary>The desk's id.</summary>
    public required string Desk { get; init; }

    /// <summary>The input; <see langword="null"/> where it is about the whole desk.</summary>
    public int? Input { get; init; }

    /// <summary>What it is about.</summary>
    public required AlarmKind Kind { get; init; }

    /// <summary>How soon to act.</summary>
    public required AlarmPriority Priority { get; init; }

    /// <summary>When it began.</summary>
    public required Moment At { get; init; }

    /// <summary>How far the level jumped in dB, where that says something.</summary>
    public double? SizeDb { get; init; }

    /// <summary>Where it stands.</summary>
    public AlarmState State { get; init; } = AlarmState.Unacknowledged;

    /// <summary>What happened and what to do, in plain words.</summary>
    public required Saying Text { get; init; }

    /// <summary>The proposal that goes with it.</summary>
    public Guid? ProposalId { get; init; }

    /// <summary>Whether it stands in the engineer's list.</summary>
    public bool IsActive => State is AlarmState.Unacknowledged or AlarmState.Acknowledged or AlarmState.Returned;
}
