using System.Net;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>Hears what a desk's socket takes in. Called on the desk's own thread.</summary>
internal interface IPacketSink
{
    /// <summary>Whether the desk is lost, or was never heard.</summary>
    bool MissesMeters { get; }

    /// <summary>One packet. Must not allocate for meters.</summary>
    /// <param name="packet">The bytes, valid during the call only.</param>
    /// <param name="from">Who sent it.</param>
    /// <param name="sameMoment">Whether it was taken in together with the packet before: the clock need not be asked again.</param>
    void Receive(ReadOnlySpan<byte> packet, SocketAddress from, bool sameMoment = false);

    /// <summary>A connection was made: whoever is on its other side knows nothing of us, and may be another desk than before.</summary>
    /// <param name="again">Whether there was one before.</param>
    void Connected(bool again);

    /// <summary>Something came that could not be told apart into packets.</summary>
    void CountUnreadable(int count, string reason);
}
