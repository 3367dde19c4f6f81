using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Tongues;

/// <summary>Finds the place that a channel message speaks of. Looking up allocates nothing.</summary>
internal sealed class MidiIndex
{
    private readonly Dictionary<(MidiMessageKind Kind, int Channel, int Number), MidiPlace> _places = [];

    public MidiIndex(DeskProfile profile, IReadOnlyList<MeterProfile> profiles, IReadOnlyList<MeterSource> meters)
    {
        for (var input = 1; input <= profile.Inputs; input++)
        {
            for (var i = 0; i < meters.Count; i++)
                At(profiles[i].Midi, input)?.Meters.Add(meters[i]);
            foreach (var control in profile.Controls)
            {
                if (At(control.Midi?.Told, input) is { } place)
                    place.Control = control;
            }
        }
    }

    /// <summary>The place of a message; <see langword="null"/> where the profile expects nothing.</summary>
    public MidiPlace? Find(MidiMessageKind kind, int channel, int number) => _places.GetValueOrDefault((kind, channel, number));

    private MidiPlace? At(MidiTemplate? form, int input)
    {
        if (form is null or { Exclusive: not null })
            return null;
        var key = (form.Kind, form.Channel.For(input), form.Number.For(input));
        if (!_places.TryGetValue(key, out var place))
            _places[key] = place = new MidiPlace(input);
        return place;
    }
}
