using Bunit;
using TrimAssist.Service.Pages.Frame;
using TrimAssist.Service.Pages.Plugging;
using TrimAssist.Service.Security;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

/// <summary>The menu that leads from view to view.</summary>
public sealed class MenuTests : BunitContext
{
    [Theory]
    [InlineData(Role.Engineer, "desks/barn", "desks/barn/stage", "desks/barn/room", "desks/barn/changeover", "desks/barn/history", "desks/barn/devices")]
    [InlineData(Role.Room, "desks/barn/stage", "desks/barn/room")]
    [InlineData(Role.Stage)]
    public void It_leads_to_what_whoever_asks_may_open_and_nowhere_where_that_is_one_view(Role role, params string[] leads)
    {
        var stage = Render<StageView>(with => with
            .Add(one => one.Now, Pictures.Desk(Pictures.Input(1)))
            .Add(one => one.Views, Places.OpenTo(new Caller("somebody", role, [1], null))));

        Assert.Equal(leads, stage.FindAll("nav a").Select(link => link.GetAttribute("href")));
    }
}
