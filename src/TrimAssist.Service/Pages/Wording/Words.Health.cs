using TrimAssist.Core.Desks;

namespace TrimAssist.Service.Pages.Wording;

// Words about whether the picture may be trusted and acted upon, and the usual cautions.
internal static partial class Words
{
    private static readonly string[] RefusalCodes =
    [
        "not-found", "not-allowed", "not-open", "expired", "digest-mismatch", "acknowledge-needed", "picture-stale", "desk-not-live", "value-moved", "journal-unavailable",
    ];

    public static string Starting => Text();
    public static string ServiceLost => Text();
    public static string MetersStopped => Text();
    public static string MetersNever => Text();
    public static string NotHeard => Text();
    public static string NotHeardDo => Text();
    public static string Refused => Text();
    public static string NoAnswer => Text();
    public static string Changed => Text();
    public static string ChangedMute => Text();
    public static string RaiseCaution => Text();
    public static string NotSoundLevels => Text();
    public static string PlugCaution => Text();
    public static string NoDesk => Text();
    public static string NothingConfirmed => Text();
    public static string Taken => Text();
    public static string NotSent => Text();

    /// <summary>What the service's refusals mean, by the code that each carries.</summary>
    public static IReadOnlyList<(string Code, string Text)> Refusals => [.. RefusalCodes.Select(code => (code, Text($"Refusal{string.Concat(code.Split('-').Select(Capital))}")))];

    public static string Link(LinkState state) => state switch
    {
        LinkState.Live => Text("LinkLive"),
        LinkState.Stale => Text("LinkStale"),
        LinkState.Lost => Text("LinkLost"),
        _ => Text("LinkConnecting"),
    };

    private static string Capital(string word) => $"{char.ToUpperInvariant(word[0])}{word[1..]}";
}
