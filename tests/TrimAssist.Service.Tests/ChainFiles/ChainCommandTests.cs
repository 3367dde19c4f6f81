using System.Text.Json;
using System.Text.RegularExpressions;
using TrimAssist.Service.Cli;
using Xunit;

namespace TrimAssist.Service.Tests.ChainFiles;

/// <summary>The command's answers, exit codes and channels.</summary>
public sealed partial class ChainCommandTests : IDisposable
{
    private readonly string _file = Path.Combine(Path.GetTempPath(), $"chain-{Guid.NewGuid():N}.toml");
    private readonly StringWriter _output = new();
    private readonly StringWriter _errors = new();

    public void Dispose()
    {
        File.Delete(_file);
        _output.Dispose();
        _errors.Dispose();
    }

    [Fact]
    public void A_plan_is_one_json_document_with_the_keys_of_the_contract()
    {
        Assert.Equal(0, Run(ChainTexts.Good, json: true));
        Assert.Empty(_errors.ToString());
        var root = JsonDocument.Parse(_output.ToString()).RootElement;
        // By hand: the pedal stays 6 dB under its output's +2 dBu and its 20 dB go in at once; the preamp makes up for the rest: -10 - 20 + 36 = 6 dBu.
        Assert.Equal([20, -20, 36], root.GetProperty("stages").EnumerateArray().Select(stage => stage.GetProperty("gainDb").GetDouble()));
        var preamp = root.GetProperty("stages")[2];
        Assert.Equal((-30, 6, 12), (preamp.GetProperty("peakInDbu").GetDouble(), preamp.GetProperty("peakOutDbu").GetDouble(), preamp.GetProperty("headroomDb").GetDouble()));
        Assert.False(preamp.GetProperty("padOn").GetBoolean());
        Assert.True(root.GetProperty("snrDb").GetProperty("best").GetDouble() > root.GetProperty("snrDb").GetProperty("now").GetDouble());
        Assert.Equal("pedal", root.GetProperty("clipsFirst").GetString());
        Assert.NotEmpty(root.GetProperty("advice").EnumerateArray());
        Assert.False(root.TryGetProperty("code", out _));
        Assert.False(root.TryGetProperty("orders", out _));
    }

    [Fact]
    public void A_chain_without_noise_has_no_ratio_instead_of_a_zero()
    {
        Assert.Equal(0, Run("source_dbu = 0\ntarget_dbu = 0\n[[stage]]\nname = \"wire\"\ngain_db = 0\n", json: true));
        var ratio = JsonDocument.Parse(_output.ToString()).RootElement.GetProperty("snrDb");
        Assert.Equal((JsonValueKind.Null, JsonValueKind.Null), (ratio.GetProperty("now").ValueKind, ratio.GetProperty("best").ValueKind));
    }

    [Fact]
    public void Limits_that_collide_are_named_by_their_keys_and_end_in_1()
    {
        Assert.Equal(1, Run(ChainTexts.With("source_dbu = -30.0", "source_dbu = 3.0"), json: true));
        var root = JsonDocument.Parse(_output.ToString()).RootElement;
        Assert.Equal("infeasible", root.GetProperty("code").GetString());
        Assert.Equal(
            ["source_dbu ", "max_in_dbu pedal", "headroom_db "],
            root.GetProperty("limits").EnumerateArray().Select(limit => $"{limit.GetProperty("key").GetString()} {limit.GetProperty("stage").GetString()}"));
        Assert.Contains("no setting fits", _errors.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_target_given_in_dbfs_is_named_in_dbfs()
    {
        Assert.Equal(1, Run(ChainTexts.With("gain_db = [0, 60]", "gain_db = [0, 20]").Replace("now_db = 56.0", "now_db = 20.0", StringComparison.Ordinal), json: true));
        var limit = JsonDocument.Parse(_output.ToString()).RootElement.GetProperty("limits").EnumerateArray().Last();
        Assert.Equal(("target_dbfs", -12), (limit.GetProperty("key").GetString(), limit.GetProperty("value").GetDouble()));
    }

    [Fact]
    public void A_wrong_file_is_bad_usage_with_its_place()
    {
        Assert.Equal(2, Run(ChainTexts.With("headroom_db = 6.0", "headroom_db = true"), json: false));
        Assert.Empty(_output.ToString());
        Assert.StartsWith($"{_file}:5:15: headroom_db: must be a number", _errors.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_not_there_is_bad_usage()
    {
        Assert.Equal(2, ChainCommand.Run(_file, asJson: true, compareOrder: false, _output, _errors));
        Assert.Contains(_file, _errors.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_has_a_row_for_each_stage_and_the_advice_below()
    {
        Assert.Equal(0, Run(ChainTexts.Good, json: false));
        var lines = _output.ToString().Split('\n');
        Assert.Matches(@"^pedal +0\.0 +20\.0 +- ", lines[2]);
        Assert.Matches(@"^preamp +56\.0 +36\.0 +out ", lines[4]);
        Assert.Contains(lines, line => line.StartsWith("- pedal: turn up by 20.0 dB", StringComparison.Ordinal));
    }

    [Fact]
    public void Orders_are_compared_only_when_asked()
    {
        Assert.Equal(0, Run($"compare_order = true\n{ChainTexts.Good}", json: true));
        var orders = JsonDocument.Parse(_output.ToString()).RootElement.GetProperty("orders");
        Assert.Equal(["pedal", "DI"], orders[0].GetProperty("swap").EnumerateArray().Select(name => name.GetString()));
        Assert.Equal(2, orders.GetArrayLength());
    }

    [Fact]
    public void The_example_of_the_documentation_gives_the_answer_that_it_prints()
    {
        var document = File.ReadAllText(Path.Combine(Root(), "docs", "chain.md"));
        var example = Fenced().Matches(document).First(block => block.Groups["kind"].Value == "toml").Groups["text"].Value;
        var printed = Fenced().Matches(document).First(block => block.Groups["kind"].Value == "text").Groups["text"].Value;
        Assert.Equal(0, Run(example, json: false));
        Assert.Equal(printed.Trim(), _output.ToString().Replace(_file, "bass.toml", StringComparison.Ordinal).Trim());
    }

    private int Run(string text, bool json)
    {
        File.WriteAllText(_file, text);
        return ChainCommand.Run(_file, json, compareOrder: false, _output, _errors);
    }

    private static string Root()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "TrimAssist.sln")))
                return folder;
        }

        throw new DirectoryNotFoundException("The tests run inside the repository.");
    }

    [GeneratedRegex("```(?<kind>[a-z]+)\n(?<text>.*?)```", RegexOptions.Singleline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Fenced();
}
