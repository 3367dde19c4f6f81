using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Engineer;
using TrimAssist.Service.Pages.Picture;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class RowPictureTests
{
    [Fact]
    public void An_open_proposal_is_shown_before_what_became_of_an_older_one()
    {
        var done = Pictures.Trim(1, 30, 20) with { State = ProposalState.Applied };
        var open = Pictures.Trim(1, 20, 18);
        var row = Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [done, open] });
        Assert.Equal(open, row.Spoken);
        Assert.True(row.Asks);
    }

    [Fact]
    public void What_nobody_wants_any_more_is_not_shown()
    {
        var row = Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [Pictures.Trim(1, 30, 20) with { State = ProposalState.Declined }] });
        Assert.Null(row.Spoken);
        Assert.False(row.Asks);
    }

    [Theory]
    [InlineData(ProposalState.Superseded, "The desk's value moved.")]
    [InlineData(ProposalState.Expired, "The desk's value moved.")]
    [InlineData(ProposalState.Declined, null)]
    public void A_proposal_that_went_without_a_hand_leaves_its_reason_in_the_row(ProposalState state, string? word)
    {
        var gone = Pictures.Trim(1, 30, 20) with { State = state, Outcome = Saying.Plain("The desk's value moved.") };
        Assert.Equal(word, Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [gone] }).Word?.Text);
        Assert.Null(Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [gone, Pictures.Mute(1), Later(Pictures.Trim(1, 20, 18))] }).Word);
    }

    [Fact]
    public void A_verified_trim_stays_to_be_seen_and_asks_for_nothing()
    {
        var row = Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [Pictures.Trim(1, 30, 20) with { State = ProposalState.Applied }] });
        Assert.Equal(ProposalState.Applied, row.Spoken?.State);
        Assert.False(row.Asks);
    }

    [Fact]
    public void A_mute_is_kept_apart_from_a_trim()
    {
        var row = Row(Pictures.Desk(Pictures.Input(1)) with { Proposals = [Pictures.Mute(1), Pictures.Trim(1, 30, 20)] });
        Assert.Equal(ProposalKind.Mute, row.Mute?.Kind);
        Assert.Equal(ProposalKind.Trim, row.Change?.Kind);
    }

    [Theory]
    [InlineData(AlarmKind.Overload, true)]
    [InlineData(AlarmKind.FlatTop, true)]
    [InlineData(AlarmKind.Hot, true)]
    [InlineData(AlarmKind.Pop, false)]
    public void Alarms_of_its_own_input_about_clipping_mark_the_row(AlarmKind kind, bool clipping)
    {
        var rows = RowPicture.Of(Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { Alarms = [Pictures.Alarm(kind, 2)] });
        Assert.Equal([false, clipping], rows.Select(row => row.Clipping));
    }

    [Theory]
    [InlineData(-40, -21, true)]
    [InlineData(-42, -21, false)]
    [InlineData(-61, -45, false)]
    public void A_noise_floor_that_is_heard_and_near_the_playing_marks_the_row_as_hissing(double floor, double passage, bool hissing) =>
        Assert.Equal(hissing, Row(Pictures.Desk(Pictures.Input(1) with { NoiseFloorDbfs = floor, LoudestPassageDbfs = passage })).Hissing);

    [Fact]
    public void Only_an_input_without_name_playing_and_proposal_is_unused()
    {
        var silent = Pictures.Input(1) with { LoudestPassageDbfs = null };
        Assert.True(Row(Pictures.Desk(silent)).Unused);
        Assert.False(Row(Pictures.Desk(silent) with { Proposals = [Pictures.Mute(1)] }).Unused);
        Assert.False(Row(Pictures.Desk(silent) with { SpokenOf = new HashSet<int> { 1 } }).Unused);
        Assert.False(Row(Pictures.Desk(Pictures.Input(1, "Kick") with { LoudestPassageDbfs = null })).Unused);
    }

    [Fact]
    public void An_input_that_is_not_known_to_play_counts_as_silent() =>
        Assert.True(Row(Pictures.Desk(Pictures.Input(1, activity: Activity.Unknown))).Silent);

    [Fact]
    public void During_a_check_the_row_says_what_is_still_wanted_or_that_enough_was_heard()
    {
        var now = Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with
        {
            Check = Pictures.Check(1, 2),
            CheckWords = new Dictionary<int, Saying?> { [1] = Saying.Plain("heard 3 s of playing, want 10"), [2] = null },
        };
        Assert.Equal(["Heard 3 s of playing, want 10.", "Heard enough."], RowPicture.Of(now).Select(row => row.Word?.Text));
        Assert.Equal([true, false], RowPicture.Of(now).Select(row => row.Wanted));
    }

    private static RowPicture Row(DeskSnapshot now) => RowPicture.Of(now)[0];

    private static Proposal Later(Proposal proposal) => proposal with { CreatedAt = Pictures.Now.After(TimeSpan.FromSeconds(1)) };
}
