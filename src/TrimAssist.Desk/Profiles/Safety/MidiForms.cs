using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Profiles.Safety;

/// <summary>Tells whether two MIDI forms could be the same message.</summary>
internal static class MidiForms
{
    /// <summary>Whether some message of one form could be taken for one of the other.</summary>
    /// <param name="left">One form.</param>
    /// <param name="leftCount">How many values stand where it has its one.</param>
    /// <param name="right">The other form.</param>
    /// <param name="rightCount">How many values stand there.</param>
    /// <param name="inputs">The desk's inputs.</param>
    public static bool Collide(MidiTemplate left, int leftCount, MidiTemplate right, int rightCount, int inputs)
    {
        if (left.Exclusive is not null || right.Exclusive is not null)
            return left.Exclusive is { } one && right.Exclusive is { } other && ExclusiveTemplate.CouldMeet(one, leftCount, other, rightCount, inputs);
        return Occupied(left, inputs).Intersect(Occupied(right, inputs)).Any() || TakesDataOf(left, right, inputs) || TakesDataOf(right, left, inputs);
    }

    // Parameters share the controllers that select them and carry their data, so that on their channel these can carry nothing else.
    private static bool TakesDataOf(MidiTemplate controllers, MidiTemplate parameters, int inputs) => parameters.Kind == MidiMessageKind.Nrpn
        && Occupied(controllers, inputs).Where(one => one.Status == MidiStatus.ControlChange && MidiController.IsOfParameter(one.Number)).Select(one => one.Channel)
            .Intersect(Occupied(parameters, inputs).Select(one => one.Channel)).Any();

    // What a form takes of a channel. Parameters are told apart by their numbers.
    private static IEnumerable<(int Channel, byte Status, int Number)> Occupied(MidiTemplate form, int inputs)
    {
        const byte Parameters = 0;
        for (var input = 1; input <= inputs; input++)
        {
            var (channel, number) = (form.Channel.For(input), form.Number.For(input));
            switch (form.Kind)
            {
                case MidiMessageKind.Controller:
                    yield return (channel, MidiStatus.ControlChange, number);
                    break;
                case MidiMessageKind.Controller14:
                    yield return (channel, MidiStatus.ControlChange, number);
                    yield return (channel, MidiStatus.ControlChange, number + MidiController.LowerHalfOffset);
                    break;
                case MidiMessageKind.Nrpn:
                    yield return (channel, Parameters, number);
                    break;
                case MidiMessageKind.Note:
                    yield return (channel, MidiStatus.NoteOn, number);
                    break;
                default:
                    yield return (channel, MidiStatus.KeyPressure, number);
                    break;
            }
        }
    }
}
