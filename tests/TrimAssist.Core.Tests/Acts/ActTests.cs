using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Acts;

/// <summary>The running order, the roles' rules, the show's peak and the recall of an act's last trims.</summary>
public sealed class ActTests
{
    private static readonly DeskDescription Desk = new()
    {
        Id = "bench",
        Name = "Bench",
        Inputs = 8,
        Meter = new MeterTraits(0.05, Tap: MeterTap.Converter, FollowsMute: false),
        Trim = new TrimControl(0, 60, 1, 0.4, false, []),
    };

    private static readonly DateTimeOffset Night = new(2026, 7, 25, 21, 0, 0, TimeSpan.Zero);

    private readonly ActStage _stage = new(Desk, new Dbfs(-12), (_, _) => new Allowance(5, 3, true, Saying.Plain("told")));

    [Fact]
    public void Acts_stand_by_their_start_and_one_of_the_same_name_takes_its_place()
    {
        _stage.Add(Act("Late", new TimeOnly(22, 0)));
        _stage.Add(Act("Early", new TimeOnly(18, 0)));
        _stage.Add(Act("Whenever", null));
        _stage.Add(Act("Middle", new TimeOnly(20, 0)));
        _stage.Add(Act("EARLY", new TimeOnly(18, 30), Line(3)));

        Assert.Equal(["EARLY", "Middle", "Late", "Whenever"], _stage.Order.Select(act => act.Name));
        Assert.Single(_stage.Find("early")!.Inputs);
    }

    [Theory]
    [InlineData(SourceRole.Performer, 5, true)]
    [InlineData(SourceRole.Playback, 0, true)]
    [InlineData(SourceRole.Click, 0, true)]
    [InlineData(SourceRole.Timecode, 0, true)]
    [InlineData(SourceRole.Talkback, 5, false)]
    [InlineData(SourceRole.Audience, 5, false)]
    [InlineData(SourceRole.Spare, 5, false)]
    public void A_role_says_what_is_added_and_whether_a_trim_is_proposed(SourceRole role, double allowance, bool trim)
    {
        Begin(Line(1) with { Role = role });

        Assert.Equal(allowance, _stage.AllowanceOf(1).Db);
        Assert.Equal(trim, _stage.WhyNoTrim(1) is null);
        Assert.Equal(role == SourceRole.Performer, Show(role) is not null);
    }

    [Fact]
    public void The_list_comes_before_what_was_learned_and_before_the_desks_own_target()
    {
        Begin(Line(1) with { AllowanceDb = 2.5, Target = new Dbfs(-9) });

        Assert.Equal((2.5, "+2.5 dB, from the input list"), (_stage.AllowanceOf(1).Db, _stage.AllowanceOf(1).Basis));
        Assert.Equal((new Dbfs(-9), new Dbfs(-12)), (_stage.TargetOf(1), _stage.TargetOf(2)));
        Assert.Equal("told", _stage.AllowanceOf(2).Basis);
    }

    [Fact]
    public void A_player_is_found_again_by_name_whatever_the_act_the_input_or_the_spelling()
    {
        Assert.Equal(ShowInput.PlayerKey("One", Line(1) with { Player = "Ada Quill" }), ShowInput.PlayerKey("Two", Line(7) with { Player = " ada quill" }));
        Assert.NotEqual(ShowInput.PlayerKey("One", Line(1)), ShowInput.PlayerKey("Two", Line(1)));
    }

    [Fact]
    public void The_shows_peak_leaves_bangs_out_that_are_understood_within_a_second_and_refers_to_no_gain()
    {
        var meter = new ShowPeakMeter();
        for (var frame = 1; frame <= 400; frame++)
        {
            var (gain, level) = frame < 200 ? (20, -15.0) : (26, -10.0);
            meter.Observe(frame * 0.05, frame == 300 ? -0.01 : level, gain, 0);
            if (frame == 310)
                meter.CutOut(14.8, 15.2);
        }

        meter.End();

        Assert.Equal(-35, meter.PeakDb!.Value, 6);
        Assert.False(meter.Full);
    }

    [Fact]
    public void A_show_that_reached_full_scale_is_only_a_lower_bound()
    {
        var meter = new ShowPeakMeter();
        meter.Observe(1, 0, 10, 0);
        meter.End();

        Assert.Equal((-10.0, true), (meter.PeakDb, meter.Full));
        Assert.Null(new ShowPeakMeter().PeakDb);
    }

    [Fact]
    public void A_recall_lists_the_largest_difference_first_and_calls_out_what_changed()
    {
        var act = Act("Kites", null, Line(1), Line(2), Line(3) with { Source = "voice" }, Line(4), Line(5));
        ShowInput Was(int input, double trim, string source = "guitar") => Past(Line(input) with { Source = source }, trim);

        var recalled = TrimRecall.Of(act, [Was(1, 32), Was(2, 20), Was(3, 40), Was(4, 30)], Desk, Now, mayRaise: true);

        Assert.Equal([2, 1, 3, 5, 4], recalled.Select(one => one.Line.Input));
        Assert.Equal([-10.0, 2.0, null, null, null], recalled.Select(one => one.DifferenceDb));
        Assert.Contains("it was guitar", recalled[2].Note, StringComparison.Ordinal);
        Assert.Contains("No show", recalled[3].Note, StringComparison.Ordinal);
        Assert.Equal((null, null), (recalled[4].Plan, recalled[4].Note));
    }

    [Fact]
    public void A_recall_proposes_no_increase_during_a_show()
    {
        var recalled = Assert.Single(TrimRecall.Of(Act("Kites", null, Line(1)), [Past(Line(1), 40)], Desk, Now, mayRaise: false));

        Assert.Null(recalled.Plan);
        Assert.Contains("no increase", recalled.Note, StringComparison.Ordinal);
    }

    private static InputSettings Now(int input) => new() { Input = input, Trim = new Decibels(30) };

    private static ActInput Line(int input) => new(input, $"Line {input}", "guitar", SourceRole.Performer, null, null, null, null, null);

    private static Act Act(string name, TimeOnly? starts, params ActInput[] lines) => new(name, starts, lines);

    private static ShowInput Past(ActInput line, double trim) =>
        new("bench", "Kites", Night, line, trim, null, -12, -20, -80, -25, -14, -13, false, 4, "told", 5);

    private static HeldBack? Show(SourceRole role) => (Past(Line(1), 30) with { Line = Line(1) with { Role = role } }).Teaches;

    private void Begin(params ActInput[] lines) => _stage.Begin(Act("Kites", null, lines), new Moment(TimeSpan.Zero, Night));
}
