using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>A desk's UDP side for tests: a real loopback socket that hears and says what the test tells it to. Knows no rule of the service.</summary>
public sealed class ForeignDesk : IDeskWire
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly byte[] _bytes = new byte[65_536];
    private readonly SocketAddress _from = new(AddressFamily.InterNetwork);
    private bool _isOn = true;

    /// <summary>Opens the socket.</summary>
    /// <param name="address">The loopback address of the desk; 127.0.0.1 unless told.</param>
    /// <param name="port">The port; any free one unless told.</param>
    public ForeignDesk(string address = "127.0.0.1", int port = 0) => _socket.Bind(new IPEndPoint(IPAddress.Parse(address), port));

    /// <inheritdoc/>
    public IPEndPoint EndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Who spoke last; where <see cref="Say(OscMessage)"/> goes.</summary>
    public SocketAddress? Service { get; set; }

    /// <inheritdoc/>
    public bool HasService => Service is not null;

    /// <summary>Everything heard so far.</summary>
    public List<OscMessage> Heard { get; } = [];

    /// <inheritdoc/>
    public Action<OscMessage> Answer { get; set; } = static _ => { };

    /// <summary>The messages heard under an address.</summary>
    public IReadOnlyList<OscMessage> HeardAt(string address) => Heard.FindAll(message => string.Equals(message.Address, address, StringComparison.Ordinal));

    /// <summary>The messages heard under an address that carry arguments, and so would set something.</summary>
    public IReadOnlyList<OscMessage> WritesTo(string address) => [.. HeardAt(address).Where(message => message.Arguments.Count > 0)];

    /// <inheritdoc/>
    public void Attend()
    {
        while (_socket.Poll(TimeSpan.Zero, SelectMode.SelectRead))
        {
            var length = _socket.ReceiveFrom(_bytes, SocketFlags.None, _from);
            if (!_isOn)
                continue;
            Service = Copy(_from);
            var packet = new OscPacketReader(_bytes.AsSpan(0, length));
            while (packet.TryReadMessage(out var read))
            {
                var message = OscMessage.From(read);
                Heard.Add(message);
                Answer(message);
            }
        }
    }

    /// <inheritdoc/>
    public void TurnOff() => (_isOn, Service) = (false, null);

    /// <inheritdoc/>
    public void TurnOn() => _isOn = true;

    /// <summary>Sends a message to the service.</summary>
    public void Say(OscMessage message) => Say(message.Encode());

    /// <inheritdoc/>
    public void Say(ReadOnlySpan<byte> packet) => _socket.SendTo(packet, SocketFlags.None, Service ?? throw new InvalidOperationException("Nobody has spoken to the desk yet."));

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();

    private static SocketAddress Copy(SocketAddress address)
    {
        var copy = new SocketAddress(address.Family, address.Size);
        address.Buffer.Span[..address.Size].CopyTo(copy.Buffer.Span);
        return copy;
    }
}
