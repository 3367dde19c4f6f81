using Bunit;
using TrimAssist.Service.Pages.Pairing;
using TrimAssist.Service.Security;
using Xunit;

namespace TrimAssist.Service.Tests.Pages;

public sealed class DeviceViewTests : BunitContext
{
    private static readonly PairedDevice Monitors = new(Guid.NewGuid(), "monitors", Role.Stage, [1, 2], Pictures.Now.Utc);
    private readonly List<string> _asked = [];

    [Fact]
    public void A_code_is_opened_for_a_name_a_role_and_its_inputs()
    {
        var view = Show();
        view.Find("[type=text]").Change(" monitors ");
        view.FindAll(".own input")[1].Change(true);
        view.Find(".pair button").Click();
        Assert.Equal(["monitors Stage 2"], _asked);
    }

    [Fact]
    public void A_stage_without_ticked_inputs_has_all_and_a_room_must_have_its_own()
    {
        var view = Show();
        view.Find(".pair button").Click();
        view.FindAll("[type=radio]")[2].Change(true);
        Assert.True(view.Find(".pair button").HasAttribute("disabled"));
        view.FindAll(".own input")[0].Change(true);
        view.Find(".pair button").Click();
        Assert.Equal(["Stage Stage all", "Room Room 1"], _asked);
    }

    [Fact]
    public void A_code_is_shown_in_two_halves_with_where_to_type_it_and_how_long_it_is_good()
    {
        var pair = Show(code: new ShownCode("ABCD2345", "monitors", TimeSpan.FromSeconds(245))).Find(".paired");
        Assert.Equal("ABCD 2345", pair.QuerySelector(".code")!.TextContent);
        Assert.Contains("http://desk.example/pair on the device for monitors. Good for one device, for 4:05 more.", pair.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, 0)]
    [InlineData(false, 1)]
    public void A_connection_that_can_be_listened_in_on_is_warned_of(bool isSecret, int warnings) =>
        Assert.Equal(warnings, Show(isSecret: isSecret).FindAll("[role=alert]").Count);

    [Fact]
    public void A_credential_is_taken_back_by_a_second_press_only()
    {
        var view = Show(devices: Monitors);
        view.Find(".paired button").Click();
        Assert.Empty(_asked);
        Assert.Contains("Again", view.Find(".paired button").TextContent, StringComparison.Ordinal);
        view.Find(".paired button").Click();
        Assert.Equal([$"revoke {Monitors.Id}"], _asked);
    }

    private IRenderedComponent<DeviceView> Show(bool isSecret = true, ShownCode? code = null, params PairedDevice[] devices) => Render<DeviceView>(with => with
        .Add(one => one.Now, Pictures.Desk(Pictures.Input(1, "Kick"), Pictures.Input(2, "Bass")))
        .Add(one => one.Devices, devices)
        .Add(one => one.Code, code)
        .Add(one => one.IsSecret, isSecret)
        .Add(one => one.Address, "http://desk.example/")
        .Add(one => one.Open, (name, role, inputs) => Ask($"{name} {role} {(inputs is null ? "all" : string.Join(',', inputs))}"))
        .Add(one => one.Revoke, id => Ask($"revoke {id}")));

    private Task Ask(string what)
    {
        _asked.Add(what);
        return Task.CompletedTask;
    }
}
