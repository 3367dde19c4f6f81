using System.Net;
using TrimAssist.Desk.Network;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>Both directions to one desk. Owned by the desk's loop, which waits and drains in turn.</summary>
internal interface IDeskSocket : IDeskTransport, IDisposable
{
    /// <summary>Who may speak.</summary>
    SourceFilter Sources { get; }

    /// <summary>Where this side is; <see langword="null"/> while it is nowhere yet.</summary>
    IPEndPoint? LocalEndPoint { get; }

    /// <summary>The room for waiting datagrams that the system really granted, in bytes; <see langword="null"/> where there are none.</summary>
    int? ReceiveBuffer { get; }

    /// <summary>Datagrams that the system threw away because nobody fetched them in time; <see langword="null"/> where it does not say.</summary>
    long? Overflowed { get; }

    /// <summary>Waits until something may be there to take in, at most <paramref name="wait"/>.</summary>
    void Wait(TimeSpan wait);

    /// <summary>Hands over what has arrived, up to <paramref name="most"/> packets. Allocates nothing per packet.</summary>
    void Drain(IPacketSink sink, int most);
}
