using TrimAssist.Core.Acts;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Acts;

/// <summary>The lines about acts, lists and shows, as they are read.</summary>
internal static class ActLines
{
    /// <summary>An act came on.</summary>
    public static LineForm<ActBody> Act { get; } = new(ActsJson.Default.Options);

    /// <summary>An act came on: its name alone, for whoever needs no more.</summary>
    public static LineForm<NamedActBody> NamedAct { get; } = new(ActsJson.Default.Options);

    /// <summary>An act went off.</summary>
    public static LineForm<ActEndedBody> ActEnded { get; } = new(ActsJson.Default.Options);

    /// <summary>An input list was taken in.</summary>
    public static LineForm<ListBody> List { get; } = new(ActsJson.Default.Options);

    /// <summary>What became of an input in a show.</summary>
    public static LineForm<ShowInput> Show { get; } = new(ActsJson.Default.Options);

    /// <summary>A player asked to be forgotten.</summary>
    public static LineForm<PlayerBody> Player { get; } = new(ActsJson.Default.Options);
}
