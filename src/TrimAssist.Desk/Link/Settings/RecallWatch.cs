using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Settings;

/// <summary>Tells a scene recall, many values within a second, from a hand on a knob or a mute group.</summary>
internal sealed class RecallWatch
{
    // So many different controls within a second, so many of them not mutes or faders, are no hand.
    private const int Many = 5;
    private const int ManyOfThePreamp = 3;

    private const double WindowS = 1;
    private readonly Dictionary<(ControlKind Kind, int Input), double> _recent = [];
    private bool _told;

    /// <summary>Takes in a change that the desk made on its own; <see langword="true"/> once for each recall.</summary>
    public bool Changed(ControlKind kind, int input, double now)
    {
        foreach (var old in _recent.Where(c => now - c.Value > WindowS).Select(c => c.Key).ToList())
            _recent.Remove(old);
        if (_recent.Count == 0)
            _told = false;

        _recent[(kind, input)] = now;

        // A mute group or a moved bank of faders leaves preamps and patches alone.
        if (_told || _recent.Count < Many || _recent.Keys.Count(c => c.Kind is not (ControlKind.Mute or ControlKind.Fader)) < ManyOfThePreamp)
            return false;
        _told = true;
        return true;
    }
}
