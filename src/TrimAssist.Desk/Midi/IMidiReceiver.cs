using System.Net;

namespace TrimAssist.Desk.Midi;

/// <summary>Hears what comes in on a MIDI port.</summary>
public interface IMidiReceiver
{
    /// <summary>Somebody is on the other side now who knows nothing of us; running status and half messages of before are void.</summary>
    /// <param name="again">Whether there was a connection before.</param>
    void Connected(bool again);

    /// <summary>Bytes came in; they may begin and end anywhere in a message.</summary>
    /// <param name="bytes">The bytes, valid during the call only.</param>
    /// <param name="timestamp">When they came, as the port's <see cref="TimeProvider"/> counts.</param>
    void Receive(ReadOnlySpan<byte> bytes, long timestamp);

    /// <summary>
    /// Messages that were lost and are restored late, as far as the sender's journal tells: where controllers and notes stand now. Good
    /// for the state of a desk; a key or a pedal that somebody pressed back then is no press now.
    /// </summary>
    /// <param name="messages">Whole messages, valid during the call only.</param>
    void Restored(ReadOnlySpan<byte> messages);

    /// <summary>Messages were lost on the way before what comes next, and could not all be restored.</summary>
    /// <param name="packets">How many packets.</param>
    void Lost(int packets);

    /// <summary>A packet came from a network address that is not let in, and was dropped.</summary>
    /// <param name="from">Who sent it; valid during the call only.</param>
    void Dropped(SocketAddress from)
    {
    }

    /// <summary>Something came that could not be read, and was left out.</summary>
    /// <param name="count">How often.</param>
    /// <param name="reason">Why, in a few words.</param>
    void Unreadable(int count, string reason)
    {
    }
}
