using System.Text.RegularExpressions;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>docs/safety.md names its proofs; each must be there.</summary>
public sealed partial class SafetyDocumentTests
{
    [Fact]
    public void Every_test_that_the_promise_names_exists()
    {
        var root = Root();
        var tests = string.Join('\n', Directory.EnumerateFiles(Path.Combine(root, "tests"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Select(File.ReadAllText));
        var named = Named().Matches(File.ReadAllText(Path.Combine(root, "docs", "safety.md")));
        var methods = named.Select(one => one.Groups["test"].Value.TrimEnd('…', '_')).Where(name => name.Length > 0).ToList();
        var classes = named.Select(one => one.Groups["class"].Value).Where(name => name.Length > 0).ToHashSet();

        Assert.True(methods.Count > 25 && classes.Count > 10, "the document names no tests any more");
        Assert.All(methods, name => Assert.Matches($@"public (async )?(Task|void) {Regex.Escape(name)}", tests));
        Assert.All(classes, name => Assert.Contains($"class {name}", tests, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_promise_names_a_test_that_fails_when_it_is_made_false()
    {
        var promises = File.ReadLines(Path.Combine(Root(), "docs", "safety.md"))
            .Where(line => line.StartsWith("| ", StringComparison.Ordinal) && !line.StartsWith("| ---", StringComparison.Ordinal) && !line.StartsWith("| what", StringComparison.Ordinal))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
            .ToList();

        Assert.True(promises.Count > 25, "the document promises hardly anything any more");
        // A promise that nothing of the program's could break is not in the tables.
        Assert.All(promises, promise => Assert.True(Named().IsMatch(promise[^2]), $"no test is named for: {promise[1]}"));
    }

    [Fact]
    public void Nothing_is_promised_outside_the_tables()
    {
        string[] noPromises = ["## Measured, and held by no test", "## Taken on trust", "## Broken once, to see it"];
        var section = "";
        foreach (var line in File.ReadLines(Path.Combine(Root(), "docs", "safety.md")))
        {
            if (line.StartsWith("## ", StringComparison.Ordinal))
                section = line;
            else if (section.Length > 0 && !noPromises.Contains(section, StringComparer.Ordinal))
                Assert.True(line.Length == 0 || line.StartsWith("| ", StringComparison.Ordinal), $"{section}: no test is named for: {line}");
        }

        Assert.Equal(noPromises[^1], section);
    }

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "TrimAssist.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run inside the repository.");
        return folder;
    }

    // `Class`, `Class.Test_name`, `Class.Test_…` or `…Test_…`
    [GeneratedRegex(@"`(?:(?<class>\w+(?:Tests|Histories|Confirmation))(?:\.(?<test>[\w…]+))?|…(?<test>\w[\w…]+))`", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Named();
}
