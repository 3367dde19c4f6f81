using System.Text.Json;
using TrimAssist.Core.Acts;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Acts;

/// <summary>The lines about acts, lists and shows, as they are read.</summary>
internal static class ActLines
{
    private static readonly JsonSerializerOptions Rules = LineRules.StricterThan(ActsJson.Default.Options);

    /// <summary>An act came on.</summary>
    public static LineForm<ActBody> Act { get; } = new(Rules);

    /// <summary>An act came on: without its list, for whoever needs no more.</summary>
    public static LineForm<NamedActBody> NamedAct { get; } = new(Rules);

    /// <summary>An act went off.</summary>
    public static LineForm<ActEndedBody> ActEnded { get; } = new(Rules);

    /// <summary>An input list was taken in.</summary>
    public static LineForm<ListBody> List { get; } = new(Rules);

    /// <summary>What became of an input in a show.</summary>
    public static LineForm<ShowInput> Show { get; } = new(Rules);

    /// <summary>A player asked to be forgotten.</summary>
    public static LineForm<PlayerBody> Player { get; } = new(Rules);
}
