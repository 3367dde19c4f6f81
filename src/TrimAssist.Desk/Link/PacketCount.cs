using System.Net;
using TrimAssist.Desk.Network;

namespace TrimAssist.Desk.Link;

/// <summary>Counts what became of a desk's packets since the start, and has what went wrong said at a limited rate.</summary>
internal sealed class PacketCount(IDeskSink sink)
{
    private readonly NoteLimit _droppedNotes = new();
    private readonly NoteLimit _malformedNotes = new();
    private readonly NoteLimit _unsentNotes = new();

    /// <summary>Packets that came from the desk.</summary>
    public long Received { get; set; }

    /// <summary>Packets from addresses that are not let in.</summary>
    public long Dropped { get; private set; }

    /// <summary>Packets that could not be read.</summary>
    public long Malformed { get; private set; }

    /// <summary>Messages that the profile does not name.</summary>
    public long Unmatched { get; set; }

    /// <summary>Frames that came once more.</summary>
    public long Repeated { get; set; }

    /// <summary>A packet came from an address that is not let in.</summary>
    public void Drop(SocketAddress from, double now)
    {
        Dropped++;
        if (_droppedNotes.Count(now) is var many and > 0)
            sink.OnDeskNote(new DeskNote(DeskNoteKind.Dropped, $"{many} packets came from addresses that are not let in, the last from {Name(from)}."));
    }

    /// <summary>Packets could not be read.</summary>
    public void Misread(int count, string reason, double now)
    {
        Malformed += count;
        if (_malformedNotes.Count(now) is var many and > 0)
            sink.OnDeskNote(new DeskNote(DeskNoteKind.Malformed, $"{many} packets could not be used, the last for this reason: {reason}."));
    }

    /// <summary>A packet could not be sent.</summary>
    public void Unsent(string? fault, double now)
    {
        if (_unsentNotes.Count(now) is var many and > 0)
            sink.OnDeskNote(new DeskNote(DeskNoteKind.SendFailed, $"{many} packets could not be sent: {fault}"));
    }

    private static string Name(SocketAddress from)
    {
        var address = SourceFilter.AddressOf(from);
        return address.IsEmpty ? "an unknown kind of address" : new IPAddress(address).ToString();
    }
}
