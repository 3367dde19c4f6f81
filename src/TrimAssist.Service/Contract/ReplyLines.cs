using System.Text.Json;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Contract;

/// <summary>The lines that are written as they leave over HTTP, as they are read.</summary>
internal static class ReplyLines
{
    private static readonly JsonSerializerOptions Rules = LineRules.StricterThan(ApiJson.Options);

    /// <summary>A proposal is new or has changed.</summary>
    public static LineForm<ProposalReply> Proposal { get; } = new(Rules, WrongWith);

    /// <summary>An alarm is new or has changed.</summary>
    public static LineForm<AlarmReply> Alarm { get; } = new(Rules);

    /// <summary>What is wrong with a proposal that is good JSON, in one sentence; <see langword="null"/> where nothing is.</summary>
    public static string? WrongWith(ProposalReply proposal) => proposal switch
    {
        { Inputs.Count: 0 } => "It names no input.",
        { Kind: var kind, From.Db: var from, To.Db: var to } when from is null == (kind == ProposalKind.Trim) || to is null == (kind == ProposalKind.Trim) => "Its values are none of its kind.",
        _ => null,
    };
}
