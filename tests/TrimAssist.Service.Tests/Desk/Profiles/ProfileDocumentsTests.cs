using System.Text.Json;
using System.Text.RegularExpressions;
using TrimAssist.Desk.Profiles.Reading;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Profiles;

/// <summary>The reader, the JSON Schema and the reference page speak of the same keys.</summary>
public sealed partial class ProfileDocumentsTests
{
    private static readonly JsonElement Schema = JsonDocument.Parse(File.ReadAllText(InRepository("config", "profile.schema.json"))).RootElement;
    private static readonly string Page = File.ReadAllText(InRepository("docs", "profile.md"));

    public static TheoryData<string> Tables() =>
        ["", "connection", "subscription", "meters", "overload", "controls.trim", "controls.pad", "controls.mute", "controls.phantom", "controls.fader", "controls.source", "controls.label", "controls.link"];

    [Theory]
    [MemberData(nameof(Tables))]
    public void Every_key_of_the_schema_is_known_to_the_reader(string table)
    {
        foreach (var key in Keys(table))
        {
            // A value that nothing accepts: whoever knows the key complains about the value, not about the key.
            var osc = Refusal(table, key, "udp");
            var midi = Refusal(table, key, "midi");
            Assert.False(osc && midi, $"{table}.{key} is in the schema, but the reader does not know it");
        }
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Every_key_of_the_schema_is_on_the_reference_page(string table)
    {
        foreach (var key in Keys(table))
            Assert.True(Page.Contains($"`{key}`", StringComparison.Ordinal) || Page.Contains($"[{key}.", StringComparison.Ordinal) || Page.Contains($"controls.{key}", StringComparison.Ordinal) || Page.Contains($"[{key}]", StringComparison.Ordinal), $"{key} of {table} is not explained");
    }

    [Fact]
    public void Every_key_in_the_tests_full_profile_is_in_the_schema()
    {
        var known = Tables().SelectMany(t => Keys(t.Data)).ToHashSet(StringComparer.Ordinal);
        foreach (Match key in KeyAtLineStart().Matches(ProfileTexts.Full))
            Assert.Contains(key.Groups["key"].Value, known);
    }

    [Fact]
    public void The_examples_of_the_reference_page_are_good()
    {
        var whole = TomlBlocks().Matches(Page)[0].Groups["toml"].Value;
        Assert.Empty(ProfileReader.Read(whole, "page").Errors);
        foreach (Match block in TomlBlocks().Matches(Page).Skip(1))
        {
            if (block.Groups["toml"].Value.StartsWith("id =", StringComparison.Ordinal))
            {
                Assert.Empty(ProfileReader.Read(block.Groups["toml"].Value, "page").Errors);
                continue;
            }

            var alone = whole.Replace("[[meters]]\naddress = \"/lv/{input}\"\nquantity = \"peak\"", block.Groups["toml"].Value + "\n[[meters]]\naddress = \"/lv/{input}\"\nquantity = \"peak\"", StringComparison.Ordinal);
            Assert.Empty(ProfileReader.Read(alone, "page").Errors);
        }
    }

    private static bool Refusal(string table, string key, string transport)
    {
        var header = table.Length == 0 ? string.Empty : table is "connection" ? string.Empty : table is "subscription" or "meters" or "overload" ? $"[[{table}]]\n" : $"[{table}]\n";
        var line = $"{key} = 1979-05-27\n";
        var connection = $"[connection]\ntransport = \"{transport}\"\n";
        var text = table switch
        {
            "" => line + connection,
            "connection" => connection + (key is "transport" ? string.Empty : line),
            _ => connection + header + (table is "meters" or "overload" ? "packing = \"blob\"\nelement = \"int16\"\n" : string.Empty).Replace($"{key} = ", "x_ = ", StringComparison.Ordinal) + line,
        };

        // A date is a fault of TOML's own tree; the key itself must not be called unknown.
        text = text.Replace("1979-05-27", "[[[]]]", StringComparison.Ordinal);
        return ProfileReader.Read(text, "x").Errors.Any(e => e.Message.StartsWith("is no key", StringComparison.Ordinal)
            && e.Key.EndsWith(key, StringComparison.Ordinal) && !e.Key.EndsWith("x_", StringComparison.Ordinal));
    }

    private static IEnumerable<string> Keys(string table)
    {
        var at = Schema;
        foreach (var part in table.Split('.', StringSplitOptions.RemoveEmptyEntries))
        {
            at = at.GetProperty("properties").GetProperty(part);
            if (at.TryGetProperty("items", out var items))
                at = items;
        }

        return at.GetProperty("properties").EnumerateObject().Select(p => p.Name);
    }

    private static string InRepository(params string[] path)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "TrimAssist.sln")))
            folder = folder.Parent;
        return Path.Combine([folder!.FullName, .. path]);
    }

    [GeneratedRegex("^(?<key>[a-z_]+) =", RegexOptions.Multiline, matchTimeoutMilliseconds: 1000)]
    private static partial Regex KeyAtLineStart();

    [GeneratedRegex("```toml\n(?<toml>.*?)```", RegexOptions.Singleline, matchTimeoutMilliseconds: 1000)]
    private static partial Regex TomlBlocks();
}
