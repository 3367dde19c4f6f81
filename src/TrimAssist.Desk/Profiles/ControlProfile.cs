using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles;

/// <summary>The controls that a profile can describe.</summary>
public enum ControlKind
{
    /// <summary>The preamp's gain.</summary>
    Trim,

    /// <summary>The preamp's pad.</summary>
    Pad,

    /// <summary>The input's mute.</summary>
    Mute,

    /// <summary>Phantom power; read only.</summary>
    Phantom,

    /// <summary>The input's fader; read only.</summary>
    Fader,

    /// <summary>The socket that feeds the input; read only.</summary>
    Source,

    /// <summary>The input's name; read only.</summary>
    Label,

    /// <summary>The other half of a pair; read only.</summary>
    Link,
}

/// <summary>How a change is checked after it was sent.</summary>
public enum VerifyBy
{
    /// <summary>The desk repeats what it took.</summary>
    Echo,

    /// <summary>The desk is asked again.</summary>
    Query,
}

/// <summary>One form in which the desk tells a control's value.</summary>
/// <param name="Address">The address.</param>
/// <param name="Match">What other arguments must hold, by index; an entry that names the input tells which input it is.</param>
/// <param name="ValueIndex">The argument that holds the value.</param>
/// <param name="ExactCount">The only number of arguments this form has; 0 for any that reach the value.</param>
public sealed record ReplyForm(AddressTemplate Address, IReadOnlyList<(int Index, ArgumentTemplate Argument)> Match, int ValueIndex, int ExactCount = 0);

/// <summary>One control of the desk's inputs: how it is written, asked for and told.</summary>
public sealed record ControlProfile
{
    /// <summary>Which control.</summary>
    public required ControlKind Kind { get; init; }

    /// <summary>The write form; for read-only controls what must never be sent with a value. <see langword="null"/> over MIDI and for fixed pairs.</summary>
    public MessageTemplate? Write { get; init; }

    /// <summary>The MIDI forms; <see langword="null"/> over OSC.</summary>
    public MidiControl? Midi { get; init; }

    /// <summary>The message that asks for the value; <see langword="null"/> where it cannot be asked for.</summary>
    public MessageTemplate? Query { get; init; }

    /// <summary>The forms in which the desk tells the value.</summary>
    public IReadOnlyList<ReplyForm> Replies { get; init; } = [];

    /// <summary>How a change is checked.</summary>
    public VerifyBy Verify { get; init; }

    /// <summary>The OSC type of a gain's value.</summary>
    public WireType ValueType { get; init; }

    /// <summary>A gain's scale; <see langword="null"/> for other controls.</summary>
    public GainScale? Scale { get; init; }

    /// <summary>What the desk takes for on; <see langword="null"/> for other controls than switches.</summary>
    public WireValue? On { get; init; }

    /// <summary>What the desk takes for off; <see langword="null"/> for other controls than switches.</summary>
    public WireValue? Off { get; init; }

    /// <summary>How far a gain read back may lie off and still count as taken, in dB.</summary>
    public double ToleranceDb { get; init; }

    /// <summary>Whether the desk can be asked for the value.</summary>
    public bool CanBeAsked => Query is not null || Midi?.Query is not null;

    /// <summary>Whether a change can be sent at all: only what the profile spelled out in full.</summary>
    public bool Writable { get; init; }
}
