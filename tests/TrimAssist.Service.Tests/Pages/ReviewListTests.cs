using Bunit;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Pages.Engineer;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class ReviewListTests : BunitContext
{
    [Fact]
    public void Each_line_names_its_own_digest_and_only_decreases_come_ticked()
    {
        var (down, up) = (Pictures.Trim(1, 30, 24), Pictures.Trim(2, 20, 23));
        var ticks = Show(down, up).FindAll("[data-tick]");
        Assert.Equal([down.Digest, up.Digest], ticks.Select(tick => tick.GetAttribute("data-digest")));
        Assert.Equal([true, false], ticks.Select(tick => tick.HasAttribute("checked")));
    }

    [Fact]
    public void A_danger_and_a_step_of_a_sequence_are_left_to_their_own_rows()
    {
        var list = Show(
            Pictures.Trim(1, 30, 24), Pictures.Trim(2, 30, 24), Pictures.Trim(3, 20, 29, Dangers.OpenIncrease), Pictures.Trim(4, 20, 19) with { Steps = 3 });
        Assert.Equal(2, list.FindAll("[data-tick]").Count);
        Assert.Equal("Only in their own rows, one by one: 3, 4.", list.Find(".alone").TextContent);
    }

    [Fact]
    public void A_sequence_that_begins_with_a_mute_is_named_too() => Assert.Equal(
        "Only in their own rows, one by one: 3.",
        Show(Pictures.Trim(1, 30, 24), Pictures.Trim(2, 30, 24), Pictures.Mute(3) with { Steps = 4 }).Find(".alone").TextContent);

    [Fact]
    public void A_mute_is_never_in_it() => Assert.Equal(2, Show(Pictures.Trim(1, 30, 24), Pictures.Trim(2, 30, 24), Pictures.Mute(3)).FindAll("li").Count);

    [Fact]
    public void What_became_of_a_line_is_told_in_the_same_list()
    {
        var list = Show(Pictures.Trim(1, 30, 24) with { State = ProposalState.Applied }, Pictures.Trim(2, 30, 24));
        Assert.Equal("✓ verified", list.Find(".told .state").TextContent);
    }

    [Fact]
    public void One_proposal_alone_needs_no_list() => Assert.Empty(Show(Pictures.Trim(1, 30, 24)).FindAll(".review"));

    private IRenderedComponent<ReviewList> Show(params Proposal[] proposals) => Render<ReviewList>(with => with.Add(
        one => one.Now, Pictures.Desk([.. Enumerable.Range(1, 4).Select(input => Pictures.Input(input))]) with { Proposals = proposals }));
}
