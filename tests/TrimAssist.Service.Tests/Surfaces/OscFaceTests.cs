using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Surfaces;
using Xunit;

namespace TrimAssist.Service.Tests.Surfaces;

/// <summary>Which packets are a press, and that a press means one thing.</summary>
public sealed class OscFaceTests
{
    private readonly OscFace _face = new(slots: 4, inputs: 12);

    [Fact]
    public void A_button_is_pressed_by_one_by_true_or_by_nothing_at_all_and_let_go_by_zero()
    {
        var confirm = new Press(PressKind.Confirm, 2);
        Assert.Equal(confirm, Read("/trimassist/slot/2/confirm"));
        Assert.Equal(confirm, Read("/trimassist/slot/2/confirm", OscArgument.Of(1)));
        Assert.Equal(confirm, Read("/trimassist/slot/2/confirm", OscArgument.Of(1f)));
        Assert.Equal(confirm, Read("/trimassist/slot/2/confirm", OscArgument.Of(true)));
        Assert.Equal(confirm, Read("/trimassist/slot/2/confirm", OscArgument.Impulse));
        Assert.Null(Read("/trimassist/slot/2/confirm", OscArgument.Of(0)));
        Assert.Null(Read("/trimassist/slot/2/confirm", OscArgument.Of(0f)));
        Assert.Null(Read("/trimassist/slot/2/confirm", OscArgument.Of(false)));
        Assert.Null(Read("/trimassist/slot/2/confirm", OscArgument.Of(float.NaN)));
        Assert.Null(Read("/trimassist/slot/2/confirm", OscArgument.Of("now")));
    }

    [Fact]
    public void Every_kind_of_press_has_its_address()
    {
        Assert.Equal(new Press(PressKind.Decline, 4), Read("/trimassist/slot/4/decline"));
        Assert.Equal(new Press(PressKind.Acknowledge, 0), Read("/trimassist/alarm/acknowledge"));
        Assert.Equal(new Press(PressKind.Patch, 12), Read("/trimassist/input/12/patch"));
        Assert.Null(Read("/trimassist/slot/5/confirm"));
        Assert.Null(Read("/trimassist/input/13/patch"));
        Assert.Null(Read("/elsewhere"));
    }

    [Theory]
    [InlineData("/trimassist/slot/[3]/confirm", 3)]
    [InlineData("/trimassist/*/{3,9}/confirm", 3)]
    [InlineData("/trimassist/slot/*/confirm", null)]
    [InlineData("/trimassist/slot/[1-2]/confirm", null)]
    [InlineData("/trimassist/slot/1/*", null)]
    [InlineData("/*/*/9/confirm", null)]
    [InlineData("//confirm", null)]
    public void A_pattern_presses_only_where_it_names_one_thing(string pattern, int? slot) =>
        Assert.Equal(slot is { } one ? new Press(PressKind.Confirm, one) : null, Read(pattern));

    [Fact]
    public void A_packet_that_holds_several_presses_or_is_broken_is_none()
    {
        Assert.Equal(new Press(PressKind.Confirm, 1), _face.Read(Bundle("/trimassist/slot/1/confirm", "/elsewhere")));
        Assert.Null(_face.Read(Bundle("/trimassist/slot/1/confirm", "/trimassist/slot/2/confirm")));
        Assert.Null(_face.Read(Bundle("/trimassist/slot/1/confirm", "/trimassist/slot/*/confirm")));
        Assert.Null(_face.Read(Bundle("/trimassist/slot/1/confirm", "/elsewhere").AsSpan(0, 44)));
        Assert.Null(_face.Read([]));
    }

    [Fact]
    public void A_picture_says_of_every_place_how_it_stands()
    {
        var bytes = OscFace.Write(new([new(SlotState.Ready, "In 3: trim 30 -> 24 dB", "abc"), new(SlotState.Empty, "", "")], new(SlotState.Settling, "Ring on 4", "id"), []), "live", "confirmed");
        var reader = new OscPacketReader(bytes);
        Dictionary<string, OscArgument> said = [];
        while (reader.TryReadMessage(out var message))
        {
            var one = OscMessage.From(message);
            said.Add(one.Address, one.Arguments.Single());
        }

        Assert.Equal(OscError.None, reader.Error);
        Assert.Equal(OscArgument.Of("ready"), said["/trimassist/slot/1/state"]);
        Assert.Equal(OscArgument.Of("In 3: trim 30 -> 24 dB"), said["/trimassist/slot/1/text"]);
        Assert.Equal(OscArgument.Of("abc"), said["/trimassist/slot/1/digest"]);
        Assert.Equal((OscArgument.Of(1f), OscArgument.Of(0f), OscArgument.Of(0.5f)), (said["/trimassist/slot/1/lamp"], said["/trimassist/slot/2/lamp"], said["/trimassist/alarm/lamp"]));
        Assert.Equal((OscArgument.Of("live"), OscArgument.Of("confirmed")), (said["/trimassist/link"], said["/trimassist/answer"]));
    }

    private static byte[] Bundle(params string[] addresses)
    {
        var bytes = new byte[512];
        var writer = new OscWriter(bytes);
        writer.BeginBundle(OscTimeTag.Immediate);
        foreach (var address in addresses)
            new OscMessage(address, OscArgument.Of(1)).WriteTo(ref writer);
        writer.EndBundle();
        Assert.True(writer.TryFinish(out var length));
        return bytes[..length];
    }

    private Press? Read(string address, params OscArgument[] arguments) => _face.Read(new OscMessage(address, arguments).Encode());
}
