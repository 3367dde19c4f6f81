using TrimAssist.Core.Acts;
using TrimAssist.Service.Acts;

namespace TrimAssist.Service.Contract;

/// <summary>An act of the running order.</summary>
public sealed record ActReply(string Name, TimeOnly? StartsAt, bool IsOn, IReadOnlyList<ActInputReply> Inputs);

/// <summary>One line of an input list.</summary>
public sealed record ActInputReply(
    int Input, string? Name, string? Source, SourceRole Role, string? Player, int? Pair, double? TargetDbfs, double? AllowanceDb, string? Note);

/// <summary>An input list as it was taken in.</summary>
public sealed record ListReply(ActReply Act, IReadOnlyList<ListProblem> Problems);

/// <summary>The review of an act's last trims: differences first.</summary>
public sealed record RecallReply(string Act, IReadOnlyList<RecalledReply> Inputs);

/// <summary>One input of the review.</summary>
public sealed record RecalledReply(int Input, string? Name, double? ThenTrimDb, double? DifferenceDb, string? Note, ProposalReply? Proposal);

/// <summary>The chain before an input: its stages in the order of the signal, and what is to be said about it.</summary>
public sealed record ChainReply(int Input, IReadOnlyList<string> Stages, IReadOnlyList<string> Problems);

/// <summary>What was learned of a player.</summary>
public sealed record PlayerReply(string Player, string Kind, int Shows, double AllowanceDb, double SpreadDb, string Basis);

/// <summary>What became of a wish to be forgotten.</summary>
public sealed record ForgottenReply(string Player, int Lines, string Note);

internal static class ActMapping
{
    public static ActReply ToReply(this Act act, bool isOn) => new(act.Name, act.StartsAt, isOn,
    [
        .. act.Inputs.Select(line => new ActInputReply(
            line.Input, line.Name, line.Source, line.Role, line.Player, line.Pair, line.Target?.Value, line.AllowanceDb, line.Note)),
    ]);
}
