using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using TrimAssist.Service.ChainFiles;
using Xunit;

namespace TrimAssist.Service.Tests.ChainFiles;

/// <summary>A chain's file is read exactly, or refused with line, column and key.</summary>
public sealed class ChainFileReaderTests
{
    [Fact]
    public void Every_figure_of_a_file_reaches_the_chain()
    {
        var file = ChainFileReader.Read(ChainTexts.Good, "chain.toml");
        Assert.Empty(file.Errors);
        var chain = file.Chain!;
        Assert.Equal((new Dbu(-30), new Dbu(-120), new Dbu(6), new Dbu(18), new Decibels(6)), (chain.Source, chain.SourceNoise, chain.Target, chain.FullScale, chain.Headroom));
        Assert.Equal(["pedal", "DI", "preamp"], chain.Stages.Select(stage => stage.Name));
        Assert.Equal(
            new ChainStage { Name = "pedal", MinGain = new(0), MaxGain = new(20), Step = new(0.5), Now = new(0), MaxIn = new(0), MaxOut = new(2), Noise = StageNoise.AtOutput(new(-95)) },
            chain.Stages[0]);
        Assert.Equal((new Decibels(-20), new Decibels(-20)), (chain.Stages[1].MinGain, chain.Stages[1].MaxGain));
        Assert.Equal((new Decibels(20), StageNoise.AtInput(new(-127))), (chain.Stages[2].Pad, chain.Stages[2].Noise));
        Assert.True(file.TargetIsDbfs);
    }

    [Theory]
    [InlineData("source_dbu = -30.0", "source_dbu = \"loud\"", 1, 14, "source_dbu", "must be a number")]
    [InlineData("source_dbu = -30.0\n", "", 1, 1, "source_dbu", "is missing")]
    [InlineData("target_dbfs = -12.0\n", "", 1, 1, "target_dbu", "is missing")]
    [InlineData("full_scale_dbu = 18.0\n", "", 1, 1, "full_scale_dbu", "is missing")]
    [InlineData("target_dbfs = -12.0", "target_dbu = 4.0\ntarget_dbfs = -12.0", 4, 15, "target_dbfs", "not both")]
    [InlineData("target_dbfs = -12.0", "target_dbfs = 3.0", 3, 15, "target_dbfs", "must lie between")]
    [InlineData("headroom_db = 6.0", "headroom_db = -1", 5, 15, "headroom_db", "must lie between")]
    [InlineData("headroom_db = 6.0", "headrom_db = 6.0", 5, 1, "headrom_db", "is no key of a chain; the nearest is headroom_db")]
    [InlineData("name = \"DI\"", "name = \"Pedal\"", 17, 8, "stage[1].name", "earlier stage")]
    [InlineData("gain_db = [0, 20]", "gain_db = [20, 0]", 9, 11, "stage[0].gain_db", "must not be higher")]
    [InlineData("gain_db = [0, 20]", "gain_db = [0]", 9, 11, "stage[0].gain_db", "list of two numbers")]
    [InlineData("gain_db = [0, 20]\n", "", 7, 3, "stage[0].gain_db", "is missing")]
    [InlineData("step_db = 0.5", "step_db = 0", 10, 11, "stage[0].step_db", "must lie between")]
    [InlineData("step_db = 0.5", "step_db = 0.3333", 10, 11, "stage[0].step_db", "three decimals")]
    [InlineData("step_db = 0.5", "step_bd = 0.5", 10, 1, "stage[0].step_bd", "the nearest is step_db")]
    [InlineData("now_db = 0.0", "now_db = 21.0", 11, 10, "stage[0].now_db", "outside gain_db")]
    [InlineData("now_db = 0.0", "pad_now = true", 11, 11, "stage[0].pad_now", "no pad_db")]
    [InlineData("noise_dbu = -95.0", "noise_dbu = -95.0\nein_dbu = -120.0", 15, 11, "stage[0].ein_dbu", "not both")]
    [InlineData("source_dbu = -30.0", "source_dbu = = 3", 1, 14, "", "")]
    public void A_wrong_file_names_line_column_and_key(string old, string now, int line, int column, string key, string words)
    {
        var file = ChainFileReader.Read(ChainTexts.With(old.ReplaceLineEndings("\n"), now), "chain.toml");
        Assert.Null(file.Chain);
        var error = file.Errors[0];
        Assert.Equal((line, column, key), (error.Line, error.Column, error.Key));
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Steps_too_fine_to_search_are_refused_instead_of_taking_for_ever()
    {
        var stages = string.Concat(Enumerable.Range(0, 8).Select(number => $"[[stage]]\nname = \"s{number}\"\ngain_db = [-100, 100]\nstep_db = 0.001\n"));
        var file = ChainFileReader.Read($"source_dbu = 0\ntarget_dbu = 0\n{stages}", "chain.toml");
        Assert.Contains("too fine", Assert.Single(file.Errors).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_that_is_not_given_is_a_tenth_of_a_decibel() =>
        Assert.Equal(new Decibels(0.1), ChainFileReader.Read(ChainTexts.With("step_db = 0.5\n", ""), "chain.toml").Chain!.Stages[0].Step);

    [Fact]
    public void Random_text_is_refused_and_never_thrown_at_anybody()
    {
        var random = new Random(7);
        foreach (var _ in Enumerable.Range(0, 300))
        {
            var text = ChainTexts.Good.ToCharArray();
            for (var change = 0; change < 4; change++)
                text[random.Next(text.Length)] = (char)random.Next(1, 128);
            var file = ChainFileReader.Read(new string(text), "chain.toml");
            Assert.Equal(file.Chain is null, file.Errors.Count > 0);
        }
    }
}
