using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>A desk's UDP side for tests: a real loopback socket that hears and says what the test tells it to. Knows no rule of the service.</summary>
public sealed class ForeignDesk : IDisposable
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly byte[] _bytes = new byte[65_536];
    private readonly SocketAddress _from = new(AddressFamily.InterNetwork);

    /// <summary>Opens the socket.</summary>
    /// <param name="address">The loopback address of the desk; 127.0.0.1 unless told.</param>
    /// <param name="port">The port; any free one unless told.</param>
    public ForeignDesk(string address = "127.0.0.1", int port = 0) => _socket.Bind(new IPEndPoint(IPAddress.Parse(address), port));

    /// <summary>Where the desk is.</summary>
    public IPEndPoint EndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Who spoke last; where <see cref="Say(OscMessage)"/> goes.</summary>
    public SocketAddress? Service { get; set; }

    /// <summary>Everything heard so far.</summary>
    public List<OscMessage> Heard { get; } = [];

    /// <summary>What the desk does with a message; by default nothing.</summary>
    public Action<OscMessage> Answer { get; set; } = static _ => { };

    /// <summary>The messages heard under an address.</summary>
    public IReadOnlyList<OscMessage> HeardAt(string address) => Heard.FindAll(message => string.Equals(message.Address, address, StringComparison.Ordinal));

    /// <summary>The messages heard under an address that carry arguments, and so would set something.</summary>
    public IReadOnlyList<OscMessage> WritesTo(string address) => [.. HeardAt(address).Where(message => message.Arguments.Count > 0)];

    /// <summary>Takes in and answers whatever waits on the socket.</summary>
    /// <returns>How many messages there were.</returns>
    public int Attend()
    {
        var count = 0;
        for (; _socket.Poll(TimeSpan.Zero, SelectMode.SelectRead); count++)
        {
            var length = _socket.ReceiveFrom(_bytes, SocketFlags.None, _from);
            Service = Copy(_from);
            if (!OscMessage.TryParse(_bytes.AsSpan(0, length), out var message, out _) || message is null)
                continue;
            Heard.Add(message);
            Answer(message);
        }

        return count;
    }

    /// <summary>Sends a message to the service.</summary>
    public void Say(OscMessage message) => Say(message.Encode());

    /// <summary>Sends bytes to the service. Allocates nothing.</summary>
    public void Say(ReadOnlySpan<byte> bytes) => _socket.SendTo(bytes, SocketFlags.None, Service ?? throw new InvalidOperationException("Nobody has spoken to the desk yet."));

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();

    private static SocketAddress Copy(SocketAddress address)
    {
        var copy = new SocketAddress(address.Family, address.Size);
        address.Buffer.Span[..address.Size].CopyTo(copy.Buffer.Span);
        return copy;
    }
}
