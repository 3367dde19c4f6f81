using System.Net;
using System.Net.Sockets;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>
/// The TCP connection to one desk, made again whenever it is lost: to the desk and its backup in turn, in growing waits. Nothing blocks
/// but <see cref="Wait"/>; what was not sent when a connection ended is never sent on the next. Where the profile names a place to listen,
/// the desk brings its meters and answers there over a connection of its own.
/// </summary>
internal sealed class TcpDeskSocket : IDeskSocket
{
    /// <summary>A try to connect is given up after this long.</summary>
    private static readonly TimeSpan ConnectWithin = TimeSpan.FromSeconds(3);

    /// <summary>A connection that held this long was a good one: the next wait begins small.</summary>
    private static readonly TimeSpan GoodAfter = TimeSpan.FromSeconds(5);

    /// <summary>
    /// Meters come all the time, and a desk without meters is knocked at every second: a connection on which nothing at all arrives for
    /// this long has no desk on its other side any more, though the system may not find out for a quarter of an hour.
    /// </summary>
    private static readonly TimeSpan DeadAfter = TimeSpan.FromSeconds(8);

    private readonly IPEndPoint[] _engines;
    private readonly ReconnectPace _pace;
    private readonly TimeProvider _time;
    private readonly StreamOutbox _outbox;
    private readonly ManualResetEventSlim _never = new(false);
    private readonly StreamInbox _inbox;
    private readonly StreamListener? _listener;
    private Socket? _socket;
    private Task? _connecting;
    private CancellationTokenSource? _giveUp;
    private int _engine;
    private long _since;
    private long _arrivals;
    private long _arrivedAt;
    private double _waitS;
    private bool _wasConnected;

    /// <summary>Prepares the connection; it is made by <see cref="Drain"/>.</summary>
    /// <exception cref="DeskConnectException">A name cannot be resolved, or the port to listen on cannot be had.</exception>
    public TcpDeskSocket(ConnectionProfile connection, ReconnectPace pace, TimeProvider time)
    {
        _engines = [.. new[] { connection.Desk, connection.Backup }.OfType<HostAndPort>().Select(HostLookup.EndPoint)];
        Sources = HostLookup.Filter(connection, _engines);
        (_pace, _time) = (pace, time);
        (_inbox, _outbox) = (new StreamInbox(connection.Framing), new StreamOutbox(connection.Framing));
        _listener = connection.Listen is { } listen ? new StreamListener(HostLookup.EndPoint(listen), connection.Framing, Sources) : null;
        _since = time.GetTimestamp();
    }

    /// <inheritdoc/>
    public SourceFilter Sources { get; }

    /// <inheritdoc/>
    public IPEndPoint? LocalEndPoint => _listener?.LocalEndPoint ?? _socket?.LocalEndPoint as IPEndPoint;

    /// <summary>A stream holds its sender back instead.</summary>
    public int? ReceiveBuffer => null;

    /// <summary>A stream loses nothing.</summary>
    public long? Overflowed => null;

    /// <inheritdoc/>
    public Saying? Trouble { get; private set; } = LinkSayings.LinkMaking;

    /// <summary>None: whoever this side is connected to is the engine that speaks.</summary>
    public IReadOnlyList<IPAddress> Engines => [];

    /// <summary>Whether a try to connect is under way.</summary>
    public bool IsTrying => _connecting is { IsCompleted: false };

    private bool IsConnected => _socket is not null && _connecting is null;

    /// <inheritdoc/>
    public void Wait(TimeSpan wait)
    {
        if (_listener?.TryWait(wait) == true)
            return;
        if (_connecting is { } connecting)
            Task.WaitAny([connecting], wait);
        else if (_socket is null)
            _never.Wait(wait);
        else if (!_inbox.HasMore)
            _socket.Poll(wait, SelectMode.SelectRead);
    }

    /// <inheritdoc/>
    public void Drain(IPacketSink sink, int most)
    {
        _listener?.Drain(sink, most);
        if (!IsConnected && !TryConnect(sink))
            return;
        if (_outbox.Flush(_socket!) is var error and not SocketError.Success)
            Lose(StreamFaults.Text(error));
        else if (_inbox.Drain(_socket!, sink, most) is { } over)
            Lose(over);
        else if (IsDead() && sink.MissesMeters)
            Lose("nothing came from it any more.");
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
        fault = error == SocketError.Success ? null : StreamFaults.Text(error);
        return fault is null;
    }

    /// <summary>Nothing to do: the connection says who speaks.</summary>
    public void Redirect(IPAddress engine)
    {
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _giveUp?.Cancel();
        _socket?.Dispose();
        _giveUp?.Dispose();
        _listener?.Dispose();
        _never.Dispose();
    }

    private bool TryConnect(IPacketSink sink)
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
            Lose(failed is SocketException refused ? StreamFaults.Text(refused.SocketErrorCode) : StreamFaults.Text(SocketError.TimedOut));
            return false;
        }

        _connecting = null;
        _socket!.Blocking = false;
        _socket.NoDelay = true;
        _inbox.Begin(_engines[_engine].Serialize());
        _since = _arrivedAt = _time.GetTimestamp();
        Trouble = null;
        sink.Connected(again: _wasConnected);
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

    private bool IsDead()
    {
        if (_inbox.Arrivals + (_listener?.Arrivals ?? 0) is var arrivals && arrivals != _arrivals)
            (_arrivals, _arrivedAt) = (arrivals, _time.GetTimestamp());
        return _time.GetElapsedTime(_arrivedAt) >= DeadAfter;
    }

    private void Lose(string why)
    {
        if (IsConnected && _time.GetElapsedTime(_since) >= GoodAfter)
            _pace.Reset();
        _socket?.Dispose();
        (_socket, _connecting) = (null, null);
        _outbox.Clear();
        (_since, _waitS) = (_time.GetTimestamp(), _pace.Next());
        Trouble = LinkSayings.LinkNoConnection(_engines[_engine].ToString(), why);
    }
}
