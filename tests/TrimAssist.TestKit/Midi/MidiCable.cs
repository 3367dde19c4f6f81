using TrimAssist.Desk.Midi;

namespace TrimAssist.TestKit.Midi;

/// <summary>Two MIDI ports joined in memory: what is sent at one end waits at the other until it is drained. For one thread.</summary>
public sealed class MidiCable
{
    private readonly MidiCableEnd _near;
    private readonly MidiCableEnd _far;

    /// <summary>Plugs a cable in at both ends.</summary>
    /// <param name="time">Stamps what is sent.</param>
    public MidiCable(TimeProvider time)
    {
        (_near, _far) = (new("near", time), new("far", time));
        (_near.Other, _far.Other) = (_far, _near);
        PlugIn();
    }

    /// <summary>The end that the program under test holds.</summary>
    public IMidiPort Near => _near;

    /// <summary>The end that the test, as a desk or a control surface, holds.</summary>
    public IMidiPort Far => _far;

    /// <summary>Pulls the cable: what is under way is lost, and nothing can be sent.</summary>
    public void Pull()
    {
        _near.Pull();
        _far.Pull();
    }

    /// <summary>Plugs it in again.</summary>
    public void PlugIn()
    {
        _near.PlugIn();
        _far.PlugIn();
    }
}
