using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;
using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.TestKit.Desks;

/// <summary>A desk's TCP side for tests: a real loopback listener that takes one service at a time.</summary>
public sealed class StreamDesk : IDeskWire
{
    private readonly bool _slip;
    private readonly byte[] _bytes = new byte[65_536];
    private Socket? _listener;
    private Socket? _service;
    private IOscDeframer _deframer = new LengthPrefixDeframer();

    /// <summary>Opens the listener.</summary>
    /// <param name="slip">Whether packets are framed by SLIP, else by their length.</param>
    public StreamDesk(bool slip)
    {
        _slip = slip;
        EndPoint = new IPEndPoint(IPAddress.Loopback, 0);
        TurnOn();
    }

    /// <inheritdoc/>
    public IPEndPoint EndPoint { get; private set; }

    /// <summary>How many services have connected.</summary>
    public int Connections { get; private set; }

    /// <inheritdoc/>
    public bool HasService => _service is not null;

    /// <summary>Everything heard so far.</summary>
    public List<OscMessage> Heard { get; } = [];

    /// <inheritdoc/>
    public Action<OscMessage> Answer { get; set; } = static _ => { };

    /// <inheritdoc/>
    public void TurnOn()
    {
        _listener = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        _listener.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.ReuseAddress, true);
        _listener.Bind(EndPoint);
        _listener.Listen();
        EndPoint = (IPEndPoint)_listener.LocalEndPoint!;
    }

    /// <inheritdoc/>
    public void TurnOff()
    {
        HangUp();
        _listener?.Dispose();
        _listener = null;
    }

    /// <summary>Closes the connection and goes on listening.</summary>
    public void HangUp()
    {
        _service?.Dispose();
        _service = null;
    }

    /// <inheritdoc/>
    public void Attend()
    {
        if (_listener is not null && _listener.Poll(TimeSpan.Zero, SelectMode.SelectRead))
        {
            HangUp();
            _service = _listener.Accept();
            _service.NoDelay = true;
            _deframer = _slip ? new SlipDeframer() : new LengthPrefixDeframer();
            Connections++;
        }

        while (_service is { } service && service.Poll(TimeSpan.Zero, SelectMode.SelectRead))
        {
            var length = service.Receive(_bytes, SocketFlags.None, out var error);
            if (length == 0 || error != SocketError.Success)
                HangUp();
            else
                Take(_bytes.AsSpan(0, length));
        }
    }

    /// <summary>Sends a message in its frame.</summary>
    public void Say(OscMessage message) => Say(message.Encode());

    /// <inheritdoc/>
    public void Say(ReadOnlySpan<byte> packet)
    {
        var frame = new byte[(2 * packet.Length) + 4];
        var framed = _slip ? SlipFramer.TryWrite(packet, frame, out var length) : LengthPrefixFramer.TryWrite(packet, frame, out length);
        if (!framed)
            throw new ArgumentException("The packet does not fit its frame.", nameof(packet));
        SayRaw(frame.AsSpan(0, length));
    }

    /// <summary>Sends bytes as they are.</summary>
    public void SayRaw(ReadOnlySpan<byte> bytes) => _service?.Send(bytes, SocketFlags.None, out _);

    /// <inheritdoc/>
    public void Dispose() => TurnOff();

    private void Take(ReadOnlySpan<byte> bytes)
    {
        while (_deframer.TryRead(ref bytes, out var packet))
        {
            if (!OscMessage.TryParse(packet, out var message, out _) || message is null)
                continue;
            Heard.Add(message);
            Answer(message);
        }
    }
}
