using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link;

/// <summary>Hears what a desk's session finds out. All calls come on the session's own thread; none may block.</summary>
public interface IDeskSink
{
    /// <summary>One input's meters in one frame. The hot path: must not allocate.</summary>
    void OnReading(in MeterReading reading);

    /// <summary>The desk said something new about an input, asked or unasked.</summary>
    void OnSettings(InputSettings before, InputSettings now);

    /// <summary>The link's state, or the reason for it, changed.</summary>
    void OnLink(LinkState state, Saying reason);

    /// <summary>Something about the desk as a whole.</summary>
    void OnDeskNote(DeskNote note);

    /// <summary>The desk's own overload flag of an input is up; called once for each frame in which it is.</summary>
    /// <param name="input">The desk input, from 1.</param>
    /// <param name="timeS">Seconds since the session began.</param>
    void OnOverload(int input, double timeS)
    {
    }
}

/// <summary>What a note about a desk is about.</summary>
public enum DeskNoteKind
{
    /// <summary>The desk was away and is back: everything is asked again.</summary>
    Restart,

    /// <summary>Many values changed within a second: a scene was recalled.</summary>
    SceneRecall,

    /// <summary>Another engine of the desk has taken over: everything is asked again.</summary>
    Takeover,

    /// <summary>The desk's clock cannot be leaned on: its time tags are ignored.</summary>
    TimeTags,

    /// <summary>Meters come at another rate than the profile says.</summary>
    MeterRate,

    /// <summary>Packets were refused; sampled at a limited rate.</summary>
    Malformed,

    /// <summary>Packets came from a source that is not let in; sampled at a limited rate.</summary>
    Dropped,

    /// <summary>Something could not be sent; sampled at a limited rate.</summary>
    SendFailed,

    /// <summary>The system threw datagrams away because its buffer was full; sampled at a limited rate.</summary>
    Overflowed,

    /// <summary>Something went wrong inside the program; the desk is still heard.</summary>
    Fault,
}

/// <summary>A note about a desk.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Text">One sentence for the engineer or the log.</param>
public sealed record DeskNote(DeskNoteKind Kind, Saying Text)
{
    /// <summary>A note for the log alone, which is English.</summary>
    public DeskNote(DeskNoteKind kind, string text)
        : this(kind, Saying.Plain(text))
    {
    }
}
