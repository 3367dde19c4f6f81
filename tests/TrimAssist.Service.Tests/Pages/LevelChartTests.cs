using Bunit;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Pages.Records;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class LevelChartTests : BunitContext
{
    [Fact]
    public void A_gap_in_the_meters_is_a_gap_in_the_picture()
    {
        var path = Show([new(0, -20, -30), new(1, null, null), new(2, -20, -30)]).Find("path.peak").GetAttribute("d")!;
        Assert.Equal(2, path.Count(letter => letter == 'Z'));
    }

    [Fact]
    public void Levels_beyond_the_scale_stay_on_the_picture()
    {
        var path = Show([new(0, 20, null), new(1, -300, null)]).Find("path.peak").GetAttribute("d")!;
        Assert.Contains("L44 8", path, StringComparison.Ordinal);
        Assert.Contains(" 590", path, StringComparison.Ordinal);
    }

    [Fact]
    public void Events_and_changes_are_marked_and_told_in_words()
    {
        var chart = Show(
            [new(0, -20, -30)],
            [new SettingMark(50, ProposalKind.Trim, SettingValue.Gain(30), SettingValue.Gain(24))],
            [Pictures.Alarm(AlarmKind.Overload, 1)]);
        Assert.Contains("+30.0 → +24.0 dB (−6.0)", chart.Find(".moves").TextContent, StringComparison.Ordinal);
        Assert.Contains("Overload", chart.Find(".event title").TextContent, StringComparison.Ordinal);
        Assert.Equal("Highest peak −20.0 dBFS, noise floor −71.0 dBFS, target −12 dBFS, 1 alarms, 1 changes of trim, pad or mute.", chart.Find("svg").GetAttribute("aria-label"));
    }

    private IRenderedComponent<LevelChart> Show(IReadOnlyList<LevelColumn> levels, IReadOnlyList<SettingMark>? moved = null, IReadOnlyList<Alarm>? alarms = null) =>
        Render<LevelChart>(with => with
            .Add(one => one.Seen, new LevelPicture(0, 120, Pictures.Now.Utc, levels, moved ?? [], alarms ?? []))
            .Add(one => one.Live, Pictures.Input(1))
            .Add(one => one.TargetDbfs, -12));
}
