namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>What the parts of a profile need to know of one another while it is read.</summary>
internal sealed record ProfileContext(DeskTransportKind Transport, int Inputs)
{
    /// <summary>Whether messages are MIDI.</summary>
    public bool IsMidi => Transport == DeskTransportKind.Midi;
}
