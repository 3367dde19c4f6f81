using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link;

/// <summary>
/// Keeps the faults of whoever hears a session away from it: what one of them cannot digest is noted at a limited rate, and the rest of
/// the packet, the renewals and the link's state go on. The watch must not end in the middle of a show.
/// </summary>
internal sealed class SinkGuard(IDeskSink inner, TimeProvider time) : IDeskSink
{
    private readonly NoteLimit _limit = new();
    private readonly long _began = time.GetTimestamp();

    public void OnReading(in MeterReading reading)
    {
        try
        {
            inner.OnReading(reading);
        }
        catch (Exception fault) when (IsBearable(fault))
        {
            Report(fault);
        }
    }

    public void OnSettings(InputSettings before, InputSettings now)
    {
        try
        {
            inner.OnSettings(before, now);
        }
        catch (Exception fault) when (IsBearable(fault))
        {
            Report(fault);
        }
    }

    public void OnLink(LinkState state, Saying reason)
    {
        try
        {
            inner.OnLink(state, reason);
        }
        catch (Exception fault) when (IsBearable(fault))
        {
            Report(fault);
        }
    }

    public void OnOverload(int input, double timeS)
    {
        try
        {
            inner.OnOverload(input, timeS);
        }
        catch (Exception fault) when (IsBearable(fault))
        {
            Report(fault);
        }
    }

    public void OnDeskNote(DeskNote note)
    {
        try
        {
            inner.OnDeskNote(note);
        }
        catch (Exception fault) when (IsBearable(fault))
        {
            // Whoever cannot take a note cannot take a note about it either.
            _limit.Count(0);
        }
    }

    /// <summary>Notes a fault inside the program.</summary>
    public void Report(Exception fault)
    {
        if (_limit.Count(time.GetElapsedTime(_began).TotalSeconds) is var many and > 0)
            OnDeskNote(new DeskNote(DeskNoteKind.Fault, $"{many} faults inside the program, the last: {fault}"));
    }

    /// <summary>Whether one can go on after a fault.</summary>
    public static bool IsBearable(Exception fault) => fault is not OutOfMemoryException;
}
