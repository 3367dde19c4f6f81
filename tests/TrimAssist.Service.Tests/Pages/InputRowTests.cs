using Bunit;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Engineer;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class InputRowTests : BunitContext
{
    [Fact]
    public void A_trim_is_written_from_and_to_with_sign_and_true_minus()
    {
        var row = Show(Pictures.Trim(1, 30, 24));
        Assert.Equal("+30.0 → +24.0 dB (−6.0)", row.Find(".what").TextContent);
        Assert.Equal("Show peak near −4.2, target −12.", row.Find(".why").TextContent);
        Assert.DoesNotContain('-', row.Find(".what").TextContent);
    }

    [Fact]
    public void Its_control_names_exactly_what_is_shown()
    {
        var proposal = Pictures.Trim(1, 30, 24, Dangers.SharedPreamp);
        var control = Show(proposal).Find(".act .confirm");
        Assert.Equal(proposal.Id.ToString(), control.GetAttribute("data-confirm"));
        Assert.Equal(proposal.Digest, control.GetAttribute("data-digest"));
        Assert.Equal(Dangers.SharedPreamp, control.GetAttribute("data-needs"));
        Assert.Equal("hold", control.GetAttribute("data-gesture"));
        Assert.Contains("input 1 Kick drum", control.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_danger_is_named_in_words_with_the_rise()
    {
        var second = Show(Pictures.Trim(1, 20, 29, Dangers.OpenIncrease, Dangers.SharedPreamp)).Find(".second").TextContent;
        Assert.Equal("It is open: up +9.0 dB at once. Others share this preamp. Hold again", second);
    }

    [Fact]
    public void An_open_increase_offers_to_mute_first_where_mutes_stand()
    {
        var rise = Pictures.Trim(1, 20, 29, Dangers.OpenIncrease);
        Assert.NotNull(Show(rise).Find($"[data-mute-first='{rise.Id}']").Closest(".flags"));
        Assert.Empty(Show(Pictures.Trim(1, 30, 24)).FindAll("[data-mute-first]"));
    }

    [Fact]
    public void A_mute_has_another_place_and_another_gesture_than_a_trim()
    {
        var row = Show(Pictures.Mute(1), Pictures.Trim(1, 30, 24));
        var (mute, trim) = (row.Find(".confirm.mute"), row.Find(".confirm.hold"));
        Assert.NotNull(mute.Closest(".flags"));
        Assert.NotNull(trim.Closest(".act"));
        Assert.Equal(("twice", "hold"), (mute.GetAttribute("data-gesture"), trim.GetAttribute("data-gesture")));
    }

    [Fact]
    public void Nothing_can_be_confirmed_or_declined_on_a_link_that_is_not_live()
    {
        var row = Show(live: false, Pictures.Trim(1, 30, 24));
        Assert.All(row.FindAll("button"), button => Assert.True(button.HasAttribute("disabled")));
        Assert.Equal(2, row.FindAll("button").Count);
    }

    [Theory]
    [InlineData(ProposalState.Confirmed, "… sent")]
    [InlineData(ProposalState.Applied, "✓ verified")]
    [InlineData(ProposalState.Failed, "✗ failed")]
    [InlineData(ProposalState.Unknown, "? not read back")]
    public void What_became_of_it_is_said_in_words_and_there_is_nothing_left_to_confirm(ProposalState state, string words)
    {
        var row = Show(Pictures.Trim(1, 30, 24) with { State = state, Outcome = Saying.Plain("The desk answered.") });
        Assert.Equal(words, row.Find(".state").TextContent);
        Assert.Equal("The desk answered.", row.Find(".why").TextContent);
        Assert.Empty(row.FindAll(".confirm"));
    }

    [Fact]
    public void Only_what_was_verified_can_be_taken_back()
    {
        var proposal = Pictures.Trim(1, 30, 24) with { State = ProposalState.Applied };
        Assert.Equal(proposal.Id.ToString(), Show(proposal).Find("[data-undo]").GetAttribute("data-undo"));
        Assert.Empty(Show(proposal with { State = ProposalState.Unknown }).FindAll("[data-undo]"));
    }

    [Fact]
    public void The_target_is_the_inputs_own()
    {
        var desk = Pictures.Desk(Pictures.Input(1), Pictures.Input(2)) with { TargetsDbfs = [-12, -18] };
        var bars = RowPicture.Of(desk).Select(row => Render<InputRow>(with => with.Add(one => one.Row, row).Add(one => one.Live, true)).Find("canvas")).ToArray();
        Assert.Equal(["-12.0", "-18.0"], bars.Select(bar => bar.GetAttribute("data-target")));
        Assert.Contains("target −18 dBFS", bars[1].GetAttribute("aria-label"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_press_on_the_reason_shows_the_whole_of_it_with_its_figures_and_whom_it_reaches()
    {
        var sheet = Show(Pictures.Trim(1, 30, 24) with { Affects = [Saying.Plain("monitors")] }).Find("details.reason .sheet");
        Assert.Contains("Because it is so.", sheet.TextContent, StringComparison.Ordinal);
        Assert.Contains("It reaches: monitors.", sheet.TextContent, StringComparison.Ordinal);
        Assert.Equal(["Highest peak", "Target"], sheet.QuerySelectorAll("dt").Select(name => name.TextContent));
        Assert.Equal(["−9.5 dBFS", "−12.0 dBFS"], sheet.QuerySelectorAll("dd").Select(figure => figure.TextContent));
    }

    [Fact]
    public void What_clipped_in_the_check_is_not_given_as_a_level()
    {
        var clipped = Pictures.Trim(1, 30, 24);
        Assert.Equal(
            "It clipped in the check: down, then another pass.",
            Show(clipped with { Evidence = clipped.Evidence with { PeakDbfs = 0 } }).Find(".why").TextContent);
    }

    [Fact]
    public void The_bar_carries_the_window_and_a_screen_reader_hears_it()
    {
        var bar = Show().Find("canvas");
        Assert.Equal(["-71.0", "-21.0", "-9.5", "-12.0", "-6.0", "0.5"], new[] { "floor", "passage", "held", "low", "middle", "high" }.Select(name => bar.GetAttribute($"data-{name}")));
        Assert.Contains("noise floor −71.0", bar.GetAttribute("aria-label"), StringComparison.Ordinal);
    }

    private IRenderedComponent<InputRow> Show(params Proposal[] proposals) => Show(live: true, proposals);

    private IRenderedComponent<InputRow> Show(bool live, params Proposal[] proposals)
    {
        var row = RowPicture.Of(Pictures.Desk(Pictures.Input(1, "Kick drum")) with { Proposals = proposals })[0];
        return Render<InputRow>(with => with.Add(one => one.Row, row).Add(one => one.Live, live));
    }
}
