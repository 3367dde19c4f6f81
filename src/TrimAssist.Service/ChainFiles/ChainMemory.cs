using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Core.Chain;
using TrimAssist.Journal;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.ChainFiles;

/// <summary>The chains that earlier runs were told, from the journal. What is kept is the text as it was told: it is read anew by whatever reads chains today.</summary>
internal static class ChainMemory
{
    /// <summary>How many chains of a desk are remembered; the journal remembers the rest.</summary>
    private const int Bound = 2_000;

    /// <summary>A word about a chain, as it is read.</summary>
    public static LineForm<ChainBody> Line { get; } = new(LineRules.StricterThan(ChainMemoryJson.Default.Options));

    /// <summary>The chains of a desk, those told last; a chain that can no longer be read, or of an input that is no longer there, is left out.</summary>
    /// <param name="journal">What earlier runs wrote.</param>
    /// <param name="desk">The desk's id.</param>
    /// <param name="inputs">How many inputs it has now.</param>
    public static IReadOnlyList<(string? Act, int Input, SignalChain Chain)> Read(LineReader journal, string desk, int inputs)
    {
        var last = new Dictionary<(string? Act, int Input), ChainBody>();
        foreach (var line in journal.ReadAfter(0, JournalKinds.Chain))
        {
            if (!string.Equals(line.Fact.Desk, desk, StringComparison.Ordinal) || journal.Read(line, Line) is not { } told)
                continue;
            last.Remove((told.Act?.ToUpperInvariant(), told.Input));
            if (told.Toml is not null && told.Input >= 1 && told.Input <= inputs)
                last.Add((told.Act?.ToUpperInvariant(), told.Input), told);
        }

        return [.. last.Values.TakeLast(Bound).Select(told => (told.Act, told.Input, ChainFileReader.Read(told.Toml!, "chain").Chain!)).Where(told => told.Item3 is not null)];
    }

    /// <summary>A word about a chain as it is written down.</summary>
    /// <param name="act">The act that it is for; <see langword="null"/> for whatever act is on.</param>
    /// <param name="input">The input.</param>
    /// <param name="toml">The chain as it was told; <see langword="null"/> where it is forgotten.</param>
    public static string Body(string? act, int input, string? toml) => JsonSerializer.Serialize(new ChainBody(act, input, toml), ChainMemoryJson.Default.ChainBody);
}

/// <summary>The body of a chain, in the journal.</summary>
internal sealed record ChainBody(string? Act, int Input, string? Toml);

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(ChainBody))]
internal sealed partial class ChainMemoryJson : JsonSerializerContext;
