using System.Text.Json.Nodes;
using TrimAssist.Core.Journal;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>The ways in which a line comes to grief: by hand, by a later version, by its disk.</summary>
internal static class Damage
{
    /// <summary>Bodies that cannot be read.</summary>
    public static IEnumerable<string> Bodies(LineSample whole)
    {
        foreach (var length in new[] { 0, 1, whole.Body.Length / 4, whole.Body.Length / 2, whole.Body.TrimEnd().Length - 1 })
            yield return whole.Body[..length];
        foreach (var other in new[] { "null", "{}", "[]", "17", "true", "\"words\"", "{\"a\":1}}", "\0\0\0\0", "\uFFFD\uFFFD", Nested("{\"a\":", "}"), Nested("[", "]"), whole.Body.Replace('"', '\'') })
            yield return other;
        foreach (var member in whole.Required)
        {
            yield return Without(whole.Body, member);
            yield return With(whole.Body, member, null);
            yield return With(whole.Body, member, JsonNode.Parse("[[5]]"));
            // What may hold any members may hold others.
            if (member is not ("evidence" or "shown.evidence"))
                yield return With(whole.Body, member, JsonNode.Parse("""{"of":["another",{"type":1}]}"""));
        }

        foreach (var word in whole.Words)
        {
            yield return With(whole.Body, word, JsonValue.Create("of-a-later-version"));
            yield return With(whole.Body, word, JsonValue.Create(97));
        }

        foreach (var list in whole.Lists)
            yield return With(whole.Body, list, new JsonArray((JsonNode?)null));
        foreach (var number in new[] { "30", "24.5", "31.5", "31.25", "-12" }.Where(number => whole.Body.Contains($":{number},", StringComparison.Ordinal)))
        {
            yield return whole.Body.Replace($":{number},", ":1e999,", StringComparison.Ordinal);
            yield return whole.Body.Replace($":{number},", ":-1e300,", StringComparison.Ordinal);
            yield return whole.Body.Replace($":{number},", ":NaN,", StringComparison.Ordinal);
        }
    }

    /// <summary>Lines that cannot be read: those bodies, and whole ones in a line that is not.</summary>
    public static IEnumerable<NewEntry> Lines(LineSample whole, DateTimeOffset at)
    {
        foreach (var body in Bodies(whole))
            yield return Entry(whole.Kind, body, at);
        yield return Entry(whole.Kind, whole.Body, at) with { BodyVersion = 2 };
    }

    public static NewEntry Entry(string kind, string body, DateTimeOffset at, string? desk = "desk") => new(Guid.NewGuid(), at, desk, kind, 1, body);

    private static string Nested(string opens, string closes) => string.Concat(Enumerable.Repeat(opens, 3000)) + "1" + string.Concat(Enumerable.Repeat(closes, 3000));

    private static string Without(string body, string path) => Change(body, path, static (owner, member) =>
    {
        if (owner is JsonObject map)
            map.Remove(member);
    });

    private static string With(string body, string path, JsonNode? value) => Change(body, path, (owner, member) => owner[member] = value?.DeepClone());

    private static string Change(string body, string path, Action<JsonNode, string> change)
    {
        var root = JsonNode.Parse(body)!;
        var owner = root;
        var steps = path.Split('.');
        foreach (var step in steps[..^1])
            owner = (owner is JsonArray list ? list[int.Parse(step, null)] : owner[step])!;
        change(owner, steps[^1]);
        return root.ToJsonString();
    }
}
