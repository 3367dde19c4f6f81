using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Tongues;

/// <summary>One place in MIDI where the profile expects a value of one input: what stands there is a control, or the value of one or more meters.</summary>
internal sealed class MidiPlace(int input)
{
    /// <summary>The input.</summary>
    public int Input { get; } = input;

    /// <summary>The control that is told here; <see langword="null"/> for none.</summary>
    public ControlProfile? Control { get; set; }

    /// <summary>The meters and overload flags that are told here.</summary>
    public List<MeterSource> Meters { get; } = [];

    /// <summary>A value of which only the upper half has come.</summary>
    public int Half { get; set; }

    /// <summary>When that half came; NaN while none waits.</summary>
    public double HalfAt { get; set; } = double.NaN;
}
