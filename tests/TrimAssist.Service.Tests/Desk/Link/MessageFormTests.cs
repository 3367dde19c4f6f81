using CsCheck;
using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>The quick way from a meter message to its value must say what the general way says, or nothing.</summary>
public sealed class MessageFormTests
{
    private static readonly AddressTemplate Address = AddressTemplate.Parse("/lv/{input:00}/top", out _)!;
    private const int Inputs = 64;
    private static readonly string[] Tags = ["f", "i", "d", "h", "if", "fif", "ffff", "dhf"];

    [Theory]
    [InlineData("f", 0)]
    [InlineData("iff", 2)]
    [InlineData("hd", 1)]
    public void A_message_of_the_form_is_read(string tags, int argument)
    {
        var message = Write(7, tags, -12.5);

        Assert.True(Form(tags, argument)!.TryRead(message, out var input, out var value));
        Assert.Equal((7, -12.5), (input, value));
    }

    [Theory]
    [InlineData("s", 0)]
    [InlineData("fs", 0)]
    [InlineData("T", 0)]
    [InlineData("[f]", 1)]
    [InlineData("f", 1)]
    public void What_varies_in_size_or_is_no_plain_number_has_no_form(string tags, int argument) => Assert.Null(Form(tags, argument));

    [Fact]
    public void Inputs_in_order_out_of_order_and_left_out_are_all_read()
    {
        var form = Form("f", 0)!;
        int[] sent = [1, 2, 3, 7, 8, Inputs, 1, 1, Inputs, 5, 4];

        var read = sent.Select(input => form.TryRead(Write(input, "f", input), out var heard, out var value) ? (heard, value) : (0, 0.0));

        Assert.Equal(sent.Select(input => (input, (double)input)), read);
    }

    [Theory]
    [InlineData("/lv/{input-9}")]
    [InlineData("/lv/all")]
    [InlineData("/lv/{socket}")]
    public void Addresses_that_do_not_tell_every_input_have_no_form(string address) => Assert.Null(MessageForm.Of(AddressTemplate.Parse(address, out _)!, Inputs, "f"u8, 0));

    [Fact]
    public void An_input_that_the_desk_does_not_have_goes_the_general_way() => Assert.False(Form("f", 0)!.TryRead(Write(Inputs + 1, "f", 1), out _, out _));

    [Fact]
    public void Whatever_bytes_are_changed_the_quick_way_never_says_what_the_general_way_does_not()
    {
        var cases =
            from tags in Gen.Int[0, Tags.Length - 1].Select(index => Tags[index])
            from argument in Gen.Int[0, tags.Length - 1]
            from before in Gen.Int[1, Inputs]
            from input in Gen.Frequency((1, Gen.Const((before % Inputs) + 1)), (1, Gen.Int[1, 120]))
            from value in Gen.Int[-96, 20]
            from changes in Gen.Select(Gen.Int[0, 47], Gen.Byte).Array[0, 3]
            from cut in Gen.Frequency((4, Gen.Const(0)), (1, Gen.Int[-4, 4]))
            select (tags, argument, before, input, value, changes, cut);
        cases.Sample(
            one =>
            {
                var message = Write(one.input, one.tags, one.value);
                foreach (var (at, to) in one.changes)
                    message[at % message.Length] = to;
                Array.Resize(ref message, Math.Max(0, message.Length + one.cut));
                var form = Form(one.tags, one.argument)!;
                form.TryRead(Write(one.before, one.tags, one.value), out _, out _);
                var quick = form.TryRead(message, out var input, out var value);
                return !quick || General(message, one.argument) is var (inputThen, valueThen) && inputThen == input && valueThen.Equals(value);
            },
            iter: 20_000);
    }

    private static MessageForm? Form(string tags, int argument) => MessageForm.Of(Address, Inputs, Ascii(tags), argument);

    private static (int Input, double Value)? General(byte[] message, int argument)
    {
        var reader = new OscPacketReader(message);
        return reader.TryReadMessage(out var read) && Address.TryMatch(read.Address, out var input, out _) && read.TryReadNumberAt(argument, out var value) && !reader.TryReadMessage(out _)
            && reader.Error == OscError.None ? (input, value) : null;
    }

    private static byte[] Write(int input, string tags, double value)
    {
        var buffer = new byte[128];
        var writer = new OscWriter(buffer);
        writer.BeginMessage(Ascii(Address.Format(input, null)!), Ascii(tags));
        foreach (var tag in tags)
        {
            switch (tag)
            {
                case 'f':
                    writer.WriteFloat((float)value);
                    break;
                case 'd':
                    writer.WriteDouble(value);
                    break;
                case 'i':
                    writer.WriteInt32((int)value);
                    break;
                default:
                    writer.WriteInt64((long)value);
                    break;
            }
        }

        writer.EndMessage();
        Assert.True(writer.TryFinish(out var length));
        return buffer[..length];
    }

    private static byte[] Ascii(string text) => System.Text.Encoding.ASCII.GetBytes(text);
}
