using System.Net;
using TrimAssist.Core.Wording;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>Carries packets to a desk. Called on the session's thread only.</summary>
public interface IDeskTransport
{
    /// <summary>Why nothing can be sent or heard at present, in one sentence; <see langword="null"/> while the way is open.</summary>
    Saying? Trouble { get; }

    /// <summary>Where the engines are that the profile names, the first one first; none where the connection itself says who speaks.</summary>
    IReadOnlyList<IPAddress> Engines { get; }

    /// <summary>Sends one packet to the desk, or says why it could not.</summary>
    bool TrySend(ReadOnlySpan<byte> packet, out string? fault);

    /// <summary>Sends what follows to another engine of the same desk: at the backup's port where the profile names that backup, else at the desk's.</summary>
    void Redirect(IPAddress engine);
}
