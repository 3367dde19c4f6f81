using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Makes the packets of subscriptions and queries: messages that carry no value. Only the writer knows how to fill in one.</summary>
internal static class PacketMaker
{
    /// <summary>The packet for one input; <see langword="null"/> where the socket is not known, and for templates with a place for a value.</summary>
    public static byte[]? Make(MessageTemplate template, int input, string? socket) => Fill(template, input, socket, value: null)?.Encode();

    /// <summary>The message for one input with the value in its place.</summary>
    public static OscMessage? Fill(MessageTemplate template, int input, string? socket, WireValue? value)
    {
        if (template.Address.Format(input, socket) is not { } address)
            return null;

        var arguments = new OscArgument[template.Arguments.Count];
        for (var i = 0; i < arguments.Length; i++)
        {
            var argument = template.Arguments[i];
            if ((argument.IsValue ? value : argument.For(input, socket)) is not { } given)
                return null;
            arguments[i] = Argument(given);
        }

        return new(address, arguments);
    }

    private static OscArgument Argument(WireValue value) => value.Type switch
    {
        WireType.Real => OscArgument.Of((float)value.Number),
        WireType.Whole => OscArgument.Of((int)value.Number),
        WireType.LongReal => OscArgument.Of(value.Number),
        WireType.Flag => OscArgument.Of(value.Number != 0),
        _ => OscArgument.Of(value.Text ?? string.Empty),
    };
}
