using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc.Framing;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>
/// The TCP connection to one desk, made again whenever it is lost: to the desk and its backup in turn, in growing waits. Nothing blocks
/// but <see cref="Wait"/>; what was not sent when a connection ended is never sent on the next.
/// </summary>
internal sealed class TcpDeskSocket : IDeskSocket
{
    /// <summary>A try to connect is given up after this long.</summary>
    private static readonly TimeSpan ConnectWithin = TimeSpan.FromSeconds(3);

    /// <summary>A connection that held this long was a good one: the next wait begins small.</summary>
    private static readonly TimeSpan GoodAfter = TimeSpan.FromSeconds(5);

    private readonly IPEndPoint[] _engines;
    private readonly DeskFraming _framing;
    private readonly ReconnectPace _pace;
    private readonly TimeProvider _time;
    private readonly StreamOutbox _outbox;
    private readonly ManualResetEventSlim _never = new(false);
    private readonly byte[] _received = new byte[65_536];
    private int _start;
    private int _end;
    private IOscDeframer _deframer;
    private long _refused;
    private Socket? _socket;
    private SocketAddress _peer;
    private Task? _connecting;
    private CancellationTokenSource? _giveUp;
    private int _engine;
    private long _since;
    private double _waitS;
    private bool _wasConnected;

    /// <summary>Prepares the connection; it is made by <see cref="Drain"/>.</summary>
    /// <exception cref="DeskConnectException">A name cannot be resolved.</exception>
    public TcpDeskSocket(ConnectionProfile connection, ReconnectPace pace, TimeProvider time)
    {
        _engines = [.. new[] { connection.Desk, connection.Backup }.OfType<HostAndPort>().Select(HostLookup.EndPoint)];
        Sources = HostLookup.Filter(connection, _engines);
        (_framing, _pace, _time) = (connection.Framing, pace, time);
        _outbox = new StreamOutbox(_framing);
        _deframer = NewDeframer();
        _peer = _engines[0].Serialize();
        _since = time.GetTimestamp();
    }

    /// <inheritdoc/>
    public SourceFilter Sources { get; }

    /// <inheritdoc/>
    public IPEndPoint? LocalEndPoint => _socket?.LocalEndPoint as IPEndPoint;

    /// <summary>A stream holds its sender back instead.</summary>
    public int? ReceiveBuffer => null;

    /// <summary>A stream loses nothing.</summary>
    public long? Overflowed => null;

    /// <inheritdoc/>
    public string? Trouble { get; private set; } = "The connection to the desk is being made.";

    /// <summary>Whether a try to connect is under way.</summary>
    public bool IsTrying => _connecting is { IsCompleted: false };

    private bool IsConnected => _socket is not null && _connecting is null;

    /// <inheritdoc/>
    public void Wait(TimeSpan wait)
    {
        if (_connecting is { } connecting)
            Task.WaitAny([connecting], wait);
        else if (_socket is null)
            _never.Wait(wait);
        else if (_start == _end)
            _socket.Poll(wait, SelectMode.SelectRead);
    }

    /// <inheritdoc/>
    public void Drain(DeskSession session, int most)
    {
        if (!IsConnected && !TryConnect(session))
            return;
        if (_outbox.Flush(_socket!) is var error and not SocketError.Success)
            Lose(Text(error));
        for (var count = 0; count < most && IsConnected && (_start < _end || TryReceive()); count++)
            TakeOne(session);
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> packet, out string? fault)
    {
        fault = Trouble;
        if (!IsConnected)
            return false;
        if (!_outbox.TryAdd(packet))
        {
            fault = "The desk does not take in what is sent.";
            return false;
        }

        var error = _outbox.Flush(_socket!);
        fault = error == SocketError.Success ? null : Text(error);
        return fault is null;
    }

    /// <summary>Nothing to do: whoever this side is connected to is the engine that speaks.</summary>
    public void Redirect(IPAddress engine)
    {
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _giveUp?.Cancel();
        _socket?.Dispose();
        _giveUp?.Dispose();
        _never.Dispose();
    }

    private bool TryConnect(DeskSession session)
    {
        if (_connecting is null)
        {
            if (_time.GetElapsedTime(_since).TotalSeconds >= _waitS)
                Begin();
            return false;
        }

        if (!_connecting.IsCompleted)
            return false;
        var failed = _connecting.Exception?.InnerException;
        if (!_connecting.IsCompletedSuccessfully)
        {
            _engine = (_engine + 1) % _engines.Length;
            Lose(failed is SocketException refused ? Text(refused.SocketErrorCode) : Text(SocketError.TimedOut));
            return false;
        }

        _connecting = null;
        _socket!.Blocking = false;
        _socket.NoDelay = true;
        _peer = _engines[_engine].Serialize();
        (_deframer, _refused, _since, Trouble) = (NewDeframer(), 0, _time.GetTimestamp(), null);
        session.Connected(again: _wasConnected);
        _wasConnected = true;
        return true;
    }

    private void Begin()
    {
        var engine = _engines[_engine];
        _socket = new Socket(engine.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        _giveUp?.Dispose();
        _giveUp = new CancellationTokenSource(ConnectWithin, _time);
        _connecting = _socket.ConnectAsync(engine, _giveUp.Token).AsTask();
    }

    private void Lose(string why)
    {
        if (IsConnected && _time.GetElapsedTime(_since) >= GoodAfter)
            _pace.Reset();
        _socket?.Dispose();
        (_socket, _connecting, _start, _end) = (null, null, 0, 0);
        _outbox.Clear();
        (_since, _waitS) = (_time.GetTimestamp(), _pace.Next());
        Trouble = $"No connection to the desk at {_engines[_engine]}: {why}";
    }

    private bool TryReceive()
    {
        if (!_socket!.Poll(TimeSpan.Zero, SelectMode.SelectRead))
            return false;
        (_start, _end) = (0, _socket.Receive(_received, SocketFlags.None, out var error));
        if (error is SocketError.WouldBlock or SocketError.TryAgain)
            return false;
        if (error != SocketError.Success)
            Lose(Text(error));
        else if (_end == 0)
            Lose("the desk closed it.");
        return IsConnected;
    }

    private void TakeOne(DeskSession session)
    {
        ReadOnlySpan<byte> rest = _received.AsSpan(_start.._end);
        var whole = _deframer.TryRead(ref rest, out var packet);
        // Noted before the packet is heard: whatever goes wrong there, the stream goes on behind it.
        _start = _end - rest.Length;
        if (_deframer.Refused != _refused)
        {
            session.CountUnreadable((int)(_deframer.Refused - _refused), $"a bad frame ({_deframer.Error})");
            _refused = _deframer.Refused;
        }

        if (_deframer.IsLost)
            Lose($"the stream made no sense any more ({_deframer.Error}).");
        if (whole)
            session.Receive(packet, _peer);
    }

    private IOscDeframer NewDeframer() => _framing == DeskFraming.Slip ? new SlipDeframer() : new LengthPrefixDeframer();

    private static string Text(SocketError error) => error switch
    {
        SocketError.ConnectionRefused => "nobody listens there.",
        SocketError.ConnectionReset or SocketError.Shutdown => "the desk broke it off.",
        SocketError.HostUnreachable or SocketError.NetworkUnreachable => "there is no way there.",
        SocketError.TimedOut or SocketError.OperationAborted => "no answer.",
        _ => new SocketException((int)error).Message,
    };
}
