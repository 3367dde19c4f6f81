using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Finds out which control of which input a message speaks of.</summary>
internal sealed class ControlRouter(DeskProfile profile, SocketIndex sockets, SettingsBook book)
{
    /// <summary>Offers a message to all controls.</summary>
    public Taken Offer(ref OscMessageReader message, double now)
    {
        var taken = Taken.NotMine;
        foreach (var control in profile.Controls)
        {
            foreach (var form in control.Replies)
            {
                if (!form.Address.TryMatch(message.Address, out var input, out var socket) || !Fits(ref message, form))
                    continue;
                if (HeardValue.At(ref message, form.ValueIndex) is not { } value)
                    taken = taken == Taken.Heard ? taken : Taken.Malformed;
                else if (Hear(ref message, control, form, input, socket, value, now))
                    return Taken.Heard;
                else if (input <= profile.Inputs)
                    taken = Taken.Malformed;
            }
        }

        return taken;
    }

    // A message without arguments is a question, our own come back from a hub perhaps, and no answer.
    private static bool Fits(ref OscMessageReader message, ReplyForm form)
    {
        var count = 0;
        foreach (var tag in message.TypeTags)
            count += OscTypeTag.IsBracket(tag) ? 0 : 1;
        if (count <= form.ValueIndex || (form.ExactCount > 0 && count != form.ExactCount))
            return false;

        foreach (var (index, argument) in form.Match)
        {
            if (argument.Constant is { } constant && (HeardValue.At(ref message, index) is not { } heard || !constant.Means(heard)))
                return false;
        }

        return true;
    }

    private bool Hear(
        ref OscMessageReader message, ControlProfile control, ReplyForm form, int input, ReadOnlySpan<byte> socket, Profiles.Values.WireValue value, double now)
    {
        if (input > 0 && !form.Address.HasSocket)
            return Matches(ref message, form, input) && book.Hear(control, input, value, now);

        var heard = false;
        for (var i = 1; i <= profile.Inputs; i++)
        {
            if ((input == 0 || input == i) && (!form.Address.HasSocket || sockets.Feeds(form.Address, i, socket)) && Matches(ref message, form, i))
                heard |= book.Hear(control, i, value, now);
        }

        return heard;
    }

    private bool Matches(ref OscMessageReader message, ReplyForm form, int input)
    {
        foreach (var (index, argument) in form.Match)
        {
            if (argument.NamesInput
                && (argument.For(input, sockets[Math.Min(input, profile.Inputs)]) is not { } wanted
                    || HeardValue.At(ref message, index) is not { } heard
                    || !wanted.Means(heard)))
            {
                return false;
            }
        }

        return true;
    }
}
