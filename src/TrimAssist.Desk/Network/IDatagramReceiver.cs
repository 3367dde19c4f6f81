using System.Net;

namespace TrimAssist.Desk.Network;

/// <summary>Takes waiting datagrams out of a socket, as many at once as the system allows. One thread at a time; allocates nothing per datagram.</summary>
internal interface IDatagramReceiver : IDisposable
{
    /// <summary>The most datagrams held at once.</summary>
    int Most { get; }

    /// <summary>
    /// Datagrams that the system threw away because nobody fetched them in time; <see langword="null"/> where it does not say. Linux
    /// tells with the next datagram that does arrive.
    /// </summary>
    long? Overflowed { get; }

    /// <summary>Takes in what waits.</summary>
    /// <param name="wait">Whether to wait for a first datagram, at most the socket's receive timeout.</param>
    /// <returns>How many datagrams are held now; those before are gone.</returns>
    int Receive(bool wait);

    /// <summary>A datagram that is held, valid until the next <see cref="Receive"/>.</summary>
    /// <param name="index">Which, from 0.</param>
    /// <param name="from">Who sent it; valid until the next call.</param>
    ReadOnlySpan<byte> Datagram(int index, out SocketAddress from);
}
