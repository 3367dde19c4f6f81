using Xunit;

namespace TrimAssist.Service.Tests.Measure;

/// <summary>
/// The figures that docs/accuracy.md and docs/accuracy-jumps.md publish may not fall unnoticed. One danger is 0.8 points, one drop-out 4,
/// one input 2.1, one false alarm 0.28 an hour; a little is left below each figure for honest trade-offs.
/// </summary>
public sealed class LabelledActsTests
{
    [Theory]
    [InlineData(20, 0.72, 0.82, 1.0, 0.72)]
    [InlineData(50, 0.76, 0.83, 1.0, 0.72)]
    [InlineData(100, 0.67, 0.76, 1.7, 0.48)]
    public void The_labelled_acts_score_what_is_published(int frameMs, double found, double loud, double falsePerHour, double drops)
    {
        var score = ActScore.OfAll(frameMs);

        Assert.True(score.Found >= found, $"dangers found {score.Found:0.000}");
        Assert.True(score.LoudFound >= loud, $"loud dangers found {score.LoudFound:0.000}");
        Assert.True(score.Named >= 0.94, $"right kind named {score.Named:0.000}");
        Assert.True(score.FalsePerHour <= falsePerHour, $"false alarms per input-hour {score.FalsePerHour:0.00}");
        Assert.True(score.DropsFound >= drops, $"drop-outs found {score.DropsFound:0.00}");
        Assert.True(score.FalseDropsPerHour <= 0.6, $"false drop-outs per input-hour {score.FalseDropsPerHour:0.00}");
        Assert.True(score.MeanLandingDb <= 2.95, $"mean landing error {score.MeanLandingDb:0.00} dB");
        Assert.True(score.Within6Db >= 0.85, $"within 6 dB {score.Within6Db:0.000}");
        Assert.InRange(score.Coverage, 0.85, 0.95);
        Assert.Equal((48, 0), (score.Landed, score.Clips));
    }
}
