using System.Globalization;
using System.Text;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Safety;

/// <summary>Tells whether a message could set a control: read-only controls count too, since the desk would obey all the same.</summary>
internal static class WriteForms
{
    // Stands in for sockets that are known only once the desk has told them; as good as any for comparing.
    private const string SomeSocket = "1";

    /// <summary>The control that a message would set; <see langword="null"/> for none.</summary>
    public static ControlProfile? SetBy(MessageTemplate message, DeskProfile profile)
    {
        for (var input = 1; input <= (message.NamesInput ? profile.Inputs : 1); input++)
        {
            if (message.Address.Format(input, SomeSocket) is not { } text)
                continue;
            var address = Encoding.UTF8.GetBytes(text);
            foreach (var control in profile.Controls)
            {
                if (control.Write is { } write && write.Address.TryMatch(address, out _, out _) && CarriesValue(message, control, write, input))
                    return control;
            }
        }

        return null;
    }

    /// <summary>Whether two controls of one desk are written by messages that could be the same.</summary>
    public static bool Collide(MessageTemplate left, MessageTemplate right, int inputs)
    {
        for (var i = 0; i < Math.Min(left.Arguments.Count, right.Arguments.Count); i++)
        {
            if (left.Arguments[i].Constant is { } mine && right.Arguments[i].Constant is { } theirs && !mine.Means(theirs))
                return false;
        }

        for (var input = 1; input <= inputs; input++)
        {
            if (Matches(left, right, input) || Matches(right, left, input))
                return true;
        }

        return false;
    }

    private static bool Matches(MessageTemplate written, MessageTemplate other, int input) =>
        written.Address.Format(input, SomeSocket) is { } text && other.Address.TryMatch(Encoding.UTF8.GetBytes(text), out _, out _);

    private static bool CarriesValue(MessageTemplate message, ControlProfile control, MessageTemplate write, int input)
    {
        var value = write.ValueIndex;
        if (message.Arguments.Count <= value)
            return false;
        for (var i = 0; i < message.Arguments.Count && i < write.Arguments.Count; i++)
        {
            if (write.Arguments[i].Constant is { } constant && message.Arguments[i].For(input, SomeSocket) is { } sent && !constant.Means(sent))
                return false;
        }

        return message.Arguments[value].For(input, SomeSocket) is not { } given || CouldBeValue(given, control);
    }

    private static bool CouldBeValue(WireValue given, ControlProfile control)
    {
        if (given.Type != WireType.Text)
            return true;
        var takesText = control.Kind is ControlKind.Label or ControlKind.Source
            || control.On is { Type: WireType.Text } || control.Off is { Type: WireType.Text };
        return takesText || double.TryParse(given.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
    }
}
