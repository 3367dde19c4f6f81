using System.Globalization;
using Bunit;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Picture;
using TrimAssist.Service.Pages.Rooms;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

/// <summary>A band's own phone in a rehearsal room.</summary>
public sealed class RoomViewTests : BunitContext
{
    [Fact]
    public void Only_the_bands_own_inputs_are_shown_each_with_its_own_control_that_names_what_it_shows()
    {
        var (mine, theirs) = (Pictures.Trim(1, 30, 24), Pictures.Trim(2, 30, 24));
        var view = Show([1, 3], [mine, theirs], mine.Id, theirs.Id);

        Assert.Equal(["1", "3"], view.FindAll("[data-card]").Select(card => card.GetAttribute("data-card")));
        var control = view.Find(".confirm");
        Assert.Equal((mine.Id.ToString(), mine.Digest, "hold"), (control.GetAttribute("data-confirm"), control.GetAttribute("data-digest"), control.GetAttribute("data-gesture")));
        Assert.Equal("One change waits for you.", view.Find(".mood").TextContent);
    }

    [Fact]
    public void What_the_band_may_not_confirm_is_shown_without_its_control_says_who_is_needed_and_may_be_declined()
    {
        var view = Show([1], [Pictures.Trim(1, 20, 30)]);

        Assert.Empty(view.FindAll(".confirm"));
        Assert.Single(view.FindAll(".decline"));
        Assert.Equal("For this an engineer is needed.", view.Find(".engineer").TextContent);
        Assert.Equal("Nothing waits for you.", view.Find(".mood").TextContent);
    }

    [Fact]
    public void A_mute_and_a_change_of_the_same_input_are_both_asked_and_a_pair_is_asked_about_once()
    {
        var (mute, pair) = (Pictures.Mute(1), Pictures.Trim(1, 30, 24) with { Inputs = [1, 2] });
        var view = Show([1, 2], [mute, pair], mute.Id, pair.Id);

        Assert.Equal([mute.Digest, pair.Digest], view.FindAll("[data-card='1'] .confirm").Select(one => one.GetAttribute("data-digest")));
        Assert.Empty(view.FindAll("[data-card='2'] .confirm"));
    }

    [Fact]
    public void Nothing_can_be_pressed_on_a_link_that_is_not_live_and_a_check_that_listens_says_so()
    {
        var trim = Pictures.Trim(1, 30, 24);
        var now = Desk([trim]) with { Link = TrimAssist.Core.Desks.LinkState.Stale, Check = Pictures.Check(1) };
        var view = Show(now, [1], trim.Id);

        Assert.True(view.Find(".confirm").HasAttribute("disabled"));
        Assert.Equal("A check listens. Play as loud as you are going to.", view.Find(".mood").TextContent);
    }

    [Fact]
    public void Who_has_no_inputs_yet_chooses_and_what_became_of_a_change_is_told()
    {
        Assert.Equal(4, Show([], []).FindAll("input[name=input]").Count);
        Assert.Equal("✓ verified", Show([1], [Pictures.Trim(1, 30, 24) with { State = ProposalState.Applied }]).Find(".told .state").TextContent);
    }

    [Fact]
    public void It_speaks_german()
    {
        var before = CultureInfo.CurrentUICulture;
        CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
        try
        {
            var step = Pictures.Trim(1, 20, 23) with { Step = 2, Steps = 5, Reason = Saying.Of($"On the way up, a small step at a time.", "RoomStep") };
            var view = Show([1], [step], step.Id);
            Assert.Equal("Eine Änderung wartet auf dich.", view.Find(".mood").TextContent);
            Assert.Contains("Auf dem Weg nach oben", view.Find(".reason .why").TextContent, StringComparison.Ordinal);
            Assert.Equal("Dafür braucht es die Technik.", Show([1], [step]).Find(".engineer").TextContent);
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    private IRenderedComponent<RoomView> Show(int[] mine, Proposal[] proposals, params Guid[] may) => Show(Desk(proposals), mine, may);

    private IRenderedComponent<RoomView> Show(DeskSnapshot now, int[] mine, params Guid[] may) => Render<RoomView>(with => with
        .Add(one => one.Now, now)
        .Add(one => one.Mine, mine)
        .Add(one => one.MayConfirm, may.ToHashSet())
        .Add(one => one.Views, []));

    private static DeskSnapshot Desk(Proposal[] proposals) =>
        Pictures.Desk([.. Enumerable.Range(1, 4).Select(input => Pictures.Input(input))]) with { Proposals = proposals };
}
