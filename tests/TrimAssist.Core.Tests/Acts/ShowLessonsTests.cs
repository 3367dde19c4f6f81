using TrimAssist.Core.Acts;
using Xunit;

namespace TrimAssist.Core.Tests.Acts;

/// <summary>What counts as one lesson.</summary>
public sealed class ShowLessonsTests
{
    private static readonly DateTimeOffset Night = new(2026, 7, 25, 20, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_show_that_two_desks_watched_teaches_once_by_their_mean()
    {
        var lesson = Assert.Single(ShowLessons.Of([Show("stage", 6), Show("monitors", 8, minutes: 3)]));

        Assert.Equal(("ADA", "voice", 7.0, Night), (lesson.Player, lesson.Kind, lesson.AboveCheckDb, lesson.At));
    }

    [Fact]
    public void A_player_on_two_inputs_of_one_desk_teaches_once_a_show()
    {
        Assert.Equal(7, Assert.Single(ShowLessons.Of([Show("stage", 6), Show("stage", 8, input: 2)])).AboveCheckDb);
        Assert.Equal("+5.3 dB, from 1 show of this player", new AllowanceModel(ShowLessons.Of([Show("stage", 6), Show("stage", 6, input: 2)]), Night).For("ADA", "voice").Basis);
    }

    [Fact]
    public void Another_coming_on_another_night_another_act_and_another_kind_of_source_are_lessons_of_their_own()
    {
        ShowInput[] shows =
        [
            Show("stage", 6), Show("stage", 6, minutes: 30), Show("monitors", 6, minutes: 24 * 60), Show("stage", 6, act: "Pans"),
            Show("stage", 6) with { Line = Line(1, "guitar") },
        ];

        Assert.Equal(5, ShowLessons.Of(shows).Count);
    }

    [Fact]
    public void A_show_that_was_not_heard_to_its_end_is_a_lower_bound_and_gives_way_to_one_that_was()
    {
        Assert.Equal((6.0, true), Told(Show("stage", 6) with { SoFar = true }));
        Assert.Equal((9.0, true), Told(Show("stage", 6) with { SoFar = true }, Show("monitors", 9) with { SoFar = true }));
        Assert.Equal((7.0, false), Told(Show("stage", 6) with { SoFar = true }, Show("monitors", 7)));
        Assert.Equal((7.0, false), Told(Show("stage", 9) with { Clipped = true }, Show("monitors", 7)));
    }

    [Fact]
    public void A_soft_beginning_of_a_show_that_broke_off_takes_nothing_away_and_a_loud_one_adds()
    {
        Assert.Equal(4, Learned(-3), 9);
        Assert.InRange(Learned(10), 5, 10);
    }

    [Fact]
    public void Nobody_teaches_who_does_not_hold_back_or_did_not_play() =>
        Assert.Empty(ShowLessons.Of([Show("stage", null), Show("stage", 6) with { Line = Line(1, "voice") with { Role = SourceRole.Playback } }]));

    private static double Learned(double soFarDb) => new AllowanceModel(ShowLessons.Of([Show("stage", soFarDb) with { SoFar = true }]), Night).For("ADA", "voice").Db;

    private static (double, bool) Told(params ShowInput[] shows)
    {
        var lesson = Assert.Single(ShowLessons.Of(shows));
        return (lesson.AboveCheckDb, lesson.AtLeast);
    }

    private static ActInput Line(int input, string source) => new(input, "Lead", source, SourceRole.Performer, "Ada", null, null, null, null);

    private static ShowInput Show(string desk, double? above, int minutes = 0, int input = 1, string act = "Kites") => new(
        desk, act, Night.AddMinutes(minutes), Line(input, "voice"), 20, null, -12, -20, -70, -30, -16, -14, false, 4, "", above);
}
