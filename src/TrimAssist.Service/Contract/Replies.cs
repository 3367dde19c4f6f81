using TrimAssist.Core.Advice;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Contract;

/// <summary>A desk and its link. While <c>journalTrouble</c> says something, nothing can be confirmed.</summary>
public sealed record DeskReply(
    string Id, string Name, LinkState State, string Reason, int Inputs, double? FrameRate, long FramesLost, long DatagramsDropped,
    long DatagramsMalformed, long DatagramsUnmatched, long FramesHeard, bool Watching,
    long? DatagramsOverflowed, int? ReceiveBufferBytes, string? JournalTrouble);

/// <summary>One input as it stands now.</summary>
public sealed record InputReply(
    int Input, string? Name, string? Source, string? Socket, int? LinkedTo, double? PeakDbfs, double? RmsDbfs, double? HeldPeakDbfs,
    double? LoudestPassageDbfs, double? NoiseFloorDbfs, double? PredictedLowDbfs, double? PredictedShowPeakDbfs, double? PredictedHighDbfs,
    double? TrimDb, bool? PadOn, bool? PhantomOn, bool? Muted, double? FaderDb, Activity Activity,
    AdviceReply? Advice);

/// <summary>What the evidence says about an input's chain: which stage to touch, by how many dB (up above 0), and why. Nothing of it is ever sent to a desk.</summary>
public sealed record AdviceReply(AdviceKind Kind, string Stage, double? ByDb, string Text, IReadOnlyList<string> Evidence);

/// <summary>A proposal.</summary>
public sealed record ProposalReply(
    Guid Id, string Desk, int Input, IReadOnlyList<int> Inputs, string? Socket, ProposalKind Kind, SettingValue From, SettingValue To, string Reason,
    ProposalEvidence Evidence, IReadOnlyList<string> Affects, IReadOnlyList<string> Needs, ProposalState State, string Digest,
    DateTimeOffset CreatedAt, DateTimeOffset ExpiresAt, Guid SequenceId, int Step, int Steps, string? Outcome);

/// <summary>An alarm. Alarms of one cause share <c>groupId</c>.</summary>
public sealed record AlarmReply(
    Guid Id, Guid GroupId, string Desk, int? Input, AlarmKind Kind, AlarmPriority Priority, double AtS, DateTimeOffset At, double? SizeDb, AlarmState State,
    string Text, Guid? ProposalId);

/// <summary>A safe patch. <c>expiresInMs</c> is the lease: how long <c>safe</c> or <c>partly</c> may be shown, counted from when the question was sent.</summary>
public sealed record PatchReply(
    Guid Id, string Desk, int Input, IReadOnlyList<int> Inputs, PatchState State, string Text, string? Reason, IReadOnlyList<string> OpenPaths,
    bool? PhantomOn, string? Caution, bool MutedBefore, int? ExpiresInMs, DateTimeOffset AskedAt, Guid? ProposalId, Guid? OpeningSequenceId,
    PatchLevels? Before, PatchLevels? After, double? PeakChangeDb, double? NoiseChangeDb, string? Advice);

/// <summary>Alarms of one cause as one line; the most urgent of them stands for all.</summary>
public sealed record AlarmGroupReply(
    Guid GroupId, string Desk, AlarmKind Kind, AlarmPriority Priority, AlarmState State, DateTimeOffset At, IReadOnlyList<int> Inputs, string Text,
    IReadOnlyList<AlarmReply> Alarms);

/// <summary>A desk's alarms by the measures of IEC 62682.</summary>
public sealed record AlarmRatesReply(string Desk, AlarmFigures Figures);

/// <summary>A check, with what was heard so far. <c>loudPassageSpread</c> is how far the players' loud passages lie apart with every fader at unity, in dB.</summary>
public sealed record CheckReply(
    Guid Id, string Desk, IReadOnlyList<int> Inputs, CheckState State, DateTimeOffset StartedAt, DateTimeOffset? FinishedAt, string? Note,
    CheckAim Aim, FaderSpread? LoudPassageSpread, IReadOnlyList<CheckResultReply> Results, IReadOnlyList<ProposalReply> Proposals);

/// <summary>What a check heard on one input. Without a proposal, <c>withheld</c> says why; beside one, <c>advice</c> is a word more, where there is one.</summary>
public sealed record CheckResultReply(
    int Input, double ActiveS, double? PeakDbfs, LoudestPassageReply? LoudestPassage, double? NoiseFloorDbfs, double? SignalToNoiseDb,
    int Overloads, bool FlatTop, double? PredictedLowDbfs, double? PredictedShowPeakDbfs, double? PredictedHighDbfs, Confidence? Confidence,
    string? Withheld, string? Advice, Guid? ProposalId);

/// <summary>The loudest passage.</summary>
public sealed record LoudestPassageReply(double StartS, double EndS, double LevelDbfs, double PeakDbfs);

/// <summary>
/// Whether the service serves, and how its desks are. <c>status</c> is <c>ok</c>, or <c>degraded</c> when a loop inside the service hangs:
/// <c>faults</c> says which. <c>journalLinesUnread</c> is how many lines of earlier runs could not be read at the start. <c>warnings</c> names what whoever runs it should mend: <c>no-https</c>, <c>plain-webhook</c>, <c>plain-mqtt</c>.
/// </summary>
public sealed record HealthReply(
    string Status, IReadOnlyList<string> Faults, string Version, bool JournalWritable, string? JournalTrouble, int JournalLinesUnread, IReadOnlyList<string> Warnings, IReadOnlyList<DeskHealthReply> Desks);

/// <summary>A desk in the health answer.</summary>
public sealed record DeskHealthReply(string Id, LinkState State, string Reason);

/// <summary>A pairing code that was opened.</summary>
public sealed record PairingReply(string Code, Role Role, string Name, IReadOnlyList<int>? Inputs, DateTimeOffset ExpiresAt, string? Desk = null);

/// <summary>A credential that was just made. The token is told this once.</summary>
public sealed record PairedReply(string Token, Role Role, string Name, IReadOnlyList<int>? Inputs, string? Desk = null);

/// <summary>A credential, without its token.</summary>
public sealed record CredentialReply(Guid Id, string Name, Role Role, IReadOnlyList<int>? Inputs, DateTimeOffset MadeAt, string? Desk = null);
