using Bunit;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Engineer;
using TrimAssist.Service.Pages.Picture;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class DeskViewTests : BunitContext
{
    private readonly List<string> _asked = [];

    [Fact]
    public void A_check_listens_to_the_named_inputs_unless_others_are_chosen()
    {
        var view = Show(Pictures.Desk(Pictures.Input(1, "Kick"), Pictures.Input(2), Pictures.Input(3, "Bass")));
        Press(view, "Start check");
        view.FindAll(".inputs input")[0].Change(false);
        view.FindAll(".inputs input")[1].Change(true);
        Press(view, "Start check");
        Assert.Equal(["check 1,3", "check 2,3"], _asked);
    }

    [Fact]
    public void A_box_pressed_before_it_shows_the_last_choice_counts_as_it_is_left()
    {
        var view = Show(Pictures.Desk(Pictures.Input(1, "Kick"), Pictures.Input(2, "Bass")));
        Press(view, "None");
        view.FindAll(".inputs input")[0].Change(false);
        view.FindAll(".inputs input")[1].Change(true);
        view.FindAll(".inputs input")[1].Change(true);
        Press(view, "Start check");
        Assert.Equal(["check 2"], _asked);
    }

    [Fact]
    public void A_check_that_began_anew_says_why_before_it_says_how_it_stands()
    {
        var check = Pictures.Check(1) with { Note = Saying.Plain("A scene was recalled on the desk.") };
        var view = Show(Pictures.Desk(Pictures.Input(1, "Kick")) with { Check = check, CheckWords = new Dictionary<int, Saying?> { [1] = Saying.Plain("heard no playing") } });
        Assert.Equal("A scene was recalled on the desk. Check: 0 of 1 heard enough. Not yet: 1 Kick.", view.Find(".check").TextContent);
    }

    [Fact]
    public void Without_any_name_a_check_listens_to_all()
    {
        Press(Show(Pictures.Desk(Pictures.Input(1), Pictures.Input(2))), "Start check");
        Assert.Equal(["check 1,2"], _asked);
    }

    [Fact]
    public void A_running_check_says_who_has_not_played_enough_and_can_be_finished()
    {
        var check = Pictures.Check(1, 2);
        var view = Show(Pictures.Desk(Pictures.Input(1, "Kick"), Pictures.Input(2, "Bass")) with
        {
            Check = check,
            CheckWords = new Dictionary<int, Saying?> { [1] = null, [2] = Saying.Plain("nothing heard") },
        });
        Assert.Equal("Check: 1 of 2 heard enough. Not yet: 2 Bass.", view.Find(".check").TextContent);
        Press(view, "Finish check");
        Assert.Equal([$"finish {check.Id}"], _asked);
    }

    [Fact]
    public void No_check_starts_on_a_dead_link_and_the_reason_is_shown()
    {
        var view = Show(Pictures.Desk(Pictures.Input(1, "Kick")) with { Link = LinkState.Lost, LinkReason = Saying.Plain("Nothing heard for 5 s.") });
        Assert.True(view.FindAll("button").Single(button => button.TextContent.Trim() == "Start check").HasAttribute("disabled"));
        Assert.Equal("Nothing heard for 5 s.", view.Find(".check").TextContent);
        Assert.Contains("desk lost", view.Find(".link").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_journal_that_cannot_be_written_is_told_before_the_first_press_and_only_then()
    {
        var desk = Pictures.Desk(Pictures.Input(1, "Kick"));
        Assert.Empty(Show(desk).FindAll(".journal"));
        var told = Show(desk with { JournalTrouble = "The disk is full." }).Find(".journal");
        Assert.Equal("alert", told.GetAttribute("role"));
        Assert.Contains("Nothing can be confirmed", told.TextContent, StringComparison.Ordinal);
        Assert.Equal("The disk is full.", told.GetAttribute("title"));
    }

    [Fact]
    public void The_watch_is_turned_on_and_off_by_one_button_that_says_which()
    {
        Press(Show(Pictures.Desk(Pictures.Input(1))), "Watch the show");
        Press(Show(Pictures.Desk(Pictures.Input(1)) with { Watching = true }), "End the watch");
        Assert.Equal(["watch True", "watch False"], _asked);
    }

    [Fact]
    public void Filters_count_what_they_would_show()
    {
        var view = Show(Pictures.Desk(Pictures.Input(1), Pictures.Input(2, activity: Activity.Silent), Pictures.Input(3)) with { Proposals = [Pictures.Trim(3, 30, 20)] });
        Assert.Equal(["All 3", "Needs you 1", "Clipping 0", "Hissing 0", "Silent 1"], view.FindAll(".filters button").Select(button => button.TextContent));
    }

    [Fact]
    public void The_cautions_stand_on_the_page()
    {
        var foot = Show(Pictures.Desk(Pictures.Input(1))).Find("footer").TextContent;
        Assert.Contains("Raising gain changes what people hear at once. Lower the fader or mute first.", foot, StringComparison.Ordinal);
        Assert.Contains("Meter readings are not sound levels", foot, StringComparison.Ordinal);
    }

    private static void Press(IRenderedComponent<DeskView> view, string name) =>
        view.FindAll("button").Single(button => button.TextContent.Trim() == name).Click();

    private IRenderedComponent<DeskView> Show(DeskSnapshot now) => Render<DeskView>(with => with
        .Add(one => one.Now, now)
        .Add(one => one.StartCheck, inputs => Ask($"check {string.Join(',', inputs)}"))
        .Add(one => one.FinishCheck, id => Ask($"finish {id}"))
        .Add(one => one.Watch, on => Ask($"watch {on}"))
        .Add(one => one.Acknowledge, id => Ask($"seen {id}"))
        .Add(one => one.Shelve, id => Ask($"shelve {id}")));

    private Task Ask(string what)
    {
        _asked.Add(what);
        return Task.CompletedTask;
    }
}
