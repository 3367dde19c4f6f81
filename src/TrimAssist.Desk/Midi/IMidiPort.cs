using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Midi;

/// <summary>
/// Both directions of a MIDI connection, as bytes. Owned by one thread, which waits and drains in turn; nothing is heard but inside
/// <see cref="Drain"/>, and only <see cref="Wait"/> blocks.
/// </summary>
public interface IMidiPort : IDisposable
{
    /// <summary>The port as the user knows it.</summary>
    string Name { get; }

    /// <summary>Why nothing can be sent or heard at present, and what to do; <see langword="null"/> while the way is open.</summary>
    Saying? Trouble { get; }

    /// <summary>Waits until something may be there to take in, at most <paramref name="wait"/>.</summary>
    void Wait(TimeSpan wait);

    /// <summary>Hands over what has arrived, in at most <paramref name="most"/> pieces. Allocates nothing per piece.</summary>
    void Drain(IMidiReceiver receiver, int most);

    /// <summary>Sends whole messages, each with its own status, one after another; or says why it could not. Nothing waits for a better time: what is refused is never sent later.</summary>
    bool TrySend(ReadOnlySpan<byte> messages, out string? fault);
}
