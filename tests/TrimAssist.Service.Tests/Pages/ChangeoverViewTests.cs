using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Pages.Order;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class ChangeoverViewTests : BunitContext
{
    private static readonly ActInput Kick = Line(1, "Kick", "kick", "Ada Moor");
    private static readonly ActInput Cello = Line(2, "Cello", "cello", "Dee Vale");
    private static readonly Act Tin = new("Tin Orchard", new TimeOnly(19, 15), [Kick, Cello]);
    private readonly List<string> _begun = [];
    private Func<byte[], string, TakenList> _answer = (_, _) => new(ListFate.NothingUsable, null, []);
    private TakenList? _taken;
    private RecalledAct? _recalled;

    [Fact]
    public void The_clock_runs_to_the_next_start()
    {
        var clock = Show(Picture() with { Next = Tin, ToStart = new TimeSpan(0, 14, 5) }).Find(".clock");
        Assert.Equal("14:05", clock.QuerySelector(".count")!.TextContent);
        Assert.Contains("to Tin Orchard, 19:15", clock.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("18:30", "06:10", 12 * 60 + 20)]
    [InlineData("00:45", "22:00", 2 * 60 + 45)]
    [InlineData("23:30", "00:10", -40)]
    [InlineData("18:30", "18:30", 0)]
    public void A_running_order_goes_past_midnight(string start, string clock, int minutes) => Assert.Equal(
        TimeSpan.FromMinutes(minutes),
        ChangeoverPicture.Until(TimeOnly.Parse(start, System.Globalization.CultureInfo.InvariantCulture), TimeOnly.Parse(clock, System.Globalization.CultureInfo.InvariantCulture)));

    [Fact]
    public void What_is_left_is_named_and_what_needs_no_check_is_not_counted()
    {
        var view = Show(Picture(
            new(Kick, CheckedState.Heard, LineChange.Same, null),
            new(Cello, CheckedState.Partly, LineChange.Other, Line(2, "Bass", "bass guitar", "Ben Reed")),
            new(Line(9, "Talk", "speech", null), CheckedState.NotWanted, LineChange.New, null)));
        Assert.Equal("1 of 2 checked. Left: 2 Cello.", view.Find("p.left").TextContent);
        Assert.Equal(["✓ heard", "… listening", "no check"], view.FindAll("td.state").Select(cell => cell.TextContent));
        Assert.Equal(["", "was bass guitar, Ben Reed", "new here"], view.FindAll("tbody td:last-child").Select(cell => cell.TextContent));
    }

    [Fact]
    public void An_act_that_is_not_on_can_be_told_to_come_on()
    {
        Show(Picture()).Find(".bill button").Click();
        Assert.Equal(["Tin Orchard"], _begun);
        Show(Picture() with { Current = Tin }).Find(".bill .tools button").Click();
        Assert.Equal(["Tin Orchard", "over"], _begun);
    }

    [Fact]
    public void The_trims_of_the_last_show_are_proposed_when_asked_for_and_what_changed_is_called_out()
    {
        var proposal = Pictures.Trim(1, from: 36, to: 30);
        _recalled = new RecalledAct(Tin,
        [
            new(new(Kick, null, -6, null, null), proposal),
            new(new(Cello, null, null, null, Saying.Plain("Changed since: it was bass guitar (Ben Reed).")), null),
        ]);
        var view = Show(Picture());
        Assert.Empty(view.FindAll(".recall li"));

        view.Find(".recall button").Click();

        Assert.Contains("1 trims proposed. Nothing is set before you confirm it.", view.Find(".recall p").TextContent, StringComparison.Ordinal);
        Assert.Equal(2, view.FindAll(".recall li").Count);
        Assert.Contains("+30.0", view.Find(".recall li:first-child").TextContent, StringComparison.Ordinal);
        Assert.Contains("it was bass guitar (Ben Reed)", view.Find(".recall li:last-child").TextContent, StringComparison.Ordinal);
        Assert.Equal("desks/barn", view.Find(".recall a").GetAttribute("href"));
    }

    [Fact]
    public void Where_no_trim_would_move_it_says_so()
    {
        _recalled = new RecalledAct(Tin, [new(new(Kick, null, null, null, null), null)]);
        var view = Show(Picture());
        view.Find(".recall button").Click();
        Assert.Contains("no trim would move", view.Find(".recall p").TextContent, StringComparison.Ordinal);
        Assert.Empty(view.FindAll(".recall a"));
    }

    [Fact]
    public void Without_a_running_order_it_says_how_to_give_one() =>
        Assert.Contains("--act", Show(ChangeoverPicture.Nothing).Find(".none").TextContent, StringComparison.Ordinal);

    [Fact]
    public void A_list_that_is_taken_in_tells_what_is_wrong_by_row_and_column()
    {
        _answer = (bytes, name) => new(ListFate.Taken, Tin with { Name = name }, [new(3, "role", Saying.Plain("\"dancer\" is none of performer; the row is left out")), new(5, null, Saying.Plain("has a quotation mark out of place; read as it stands"))]);
        var view = Show(ChangeoverPicture.Nothing);
        view.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("input,name\n1,Kick\n", "Tin Orchard.csv"));
        view.WaitForAssertion(() => Assert.Contains("Tin Orchard is in the running order: 2 inputs, 2 remarks.", view.Find(".intake [role=status]").TextContent, StringComparison.Ordinal));
        Assert.Equal(["Row 3, column role:", "Row 5:"], view.FindAll(".problems b").Select(place => place.TextContent));
        Assert.NotNull(_taken);
    }

    [Fact]
    public void A_list_of_which_nothing_can_be_used_is_refused_in_words()
    {
        _answer = (_, _) => new(ListFate.NothingUsable, null, [new(1, null, Saying.Plain("the list is empty"))]);
        var view = Show(ChangeoverPicture.Nothing);
        view.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("", "nothing.csv"));
        view.WaitForAssertion(() => Assert.Equal("Nothing in nothing.csv could be used.", view.Find(".intake .bad").TextContent));
    }

    [Fact]
    public void A_list_that_the_disk_refused_is_told_so()
    {
        _answer = (_, _) => new(ListFate.NotWritten, Tin, []);
        var view = Show(ChangeoverPicture.Nothing);
        view.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("input,name\n1,Kick\n", "Tin Orchard.csv"));
        view.WaitForAssertion(() => Assert.Equal("It could not be written down (the disk is full or gone) and was not taken in: after a restart it would be lost.", view.Find(".intake .bad").TextContent));
    }

    [Fact]
    public void A_file_larger_than_any_list_is_not_read()
    {
        var view = Show(ChangeoverPicture.Nothing);
        view.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText(new string('x', (64 * 1024) + 1), "film.csv"));
        view.WaitForAssertion(() => Assert.Contains("64 KiB", view.Find(".intake .bad").TextContent, StringComparison.Ordinal));
        Assert.Null(_taken);
    }

    private static ActInput Line(int input, string name, string source, string? player) =>
        new(input, name, source, name == "Talk" ? SourceRole.Talkback : SourceRole.Performer, player, null, null, null, null);

    private static ChangeoverPicture Picture(params ChangeoverLine[] lines) => new([Tin], null, Tin, null, lines, [], null, null);

    private IRenderedComponent<ChangeoverView> Show(ChangeoverPicture picture) => Render<ChangeoverView>(with => with
        .Add(one => one.Now, Pictures.Desk(Pictures.Input(1)))
        .Add(one => one.Picture, picture)
        .Add(one => one.End, () => { _begun.Add("over"); return Task.CompletedTask; })
        .Add(one => one.Recall, _ => Task.FromResult<RecalledAct?>(_recalled))
        .Add(one => one.Begin, act => { _begun.Add(act.Name); return Task.CompletedTask; })
        .Add(one => one.Take, (bytes, name) => Task.FromResult(_taken = _answer(bytes, name))));
}
