using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link.Transport;

/// <summary>
/// The second socket of a desk that brings its meters and answers over a connection of its own: takes one such connection at a time, the
/// newest, from addresses that are let in. Only ever read.
/// </summary>
internal sealed class StreamListener : IDisposable
{
    private readonly Socket _listener;
    private readonly SourceFilter _sources;
    private readonly StreamInbox _inbox;
    private Socket? _desk;

    /// <summary>Begins to listen.</summary>
    /// <exception cref="DeskConnectException">The port cannot be had.</exception>
    public StreamListener(IPEndPoint where, DeskFraming framing, SourceFilter sources)
    {
        _listener = new Socket(where.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        (_sources, _inbox) = (sources, new StreamInbox(framing));
        try
        {
            _listener.Bind(where);
            _listener.Listen();
        }
        catch (SocketException failed)
        {
            _listener.Dispose();
            throw new DeskConnectException($"Cannot listen for the desk on {where}: {(failed.SocketErrorCode == SocketError.AddressAlreadyInUse ? "the port is in use by another program." : failed.Message)}", failed);
        }
    }

    /// <summary>Where it listens.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_listener.LocalEndPoint!;

    /// <summary>How many times bytes have come.</summary>
    public long Arrivals => _inbox.Arrivals;

    /// <summary>Waits for bytes of the desk's connection; <see langword="false"/> at once where there is none.</summary>
    public bool TryWait(TimeSpan wait)
    {
        if (_desk is null)
            return false;
        if (!_inbox.HasMore)
            _desk.Poll(wait, SelectMode.SelectRead);
        return true;
    }

    /// <summary>Takes in a new connection, and hands over what has arrived.</summary>
    public void Drain(IPacketSink sink, int most)
    {
        if (_listener.Poll(TimeSpan.Zero, SelectMode.SelectRead))
            Accept(sink);
        if (_desk is not null && _inbox.Drain(_desk, sink, most) is not null)
            Close();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Close();
        _listener.Dispose();
    }

    private void Accept(IPacketSink sink)
    {
        Socket caller;
        try
        {
            caller = _listener.Accept();
        }
        catch (SocketException)
        {
            // Whoever called has hung up already.
            return;
        }

        var from = caller.RemoteEndPoint!.Serialize();
        if (!_sources.Admits(from))
        {
            // Heard as a packet of nobody's, so that it is counted and noted with the others that are not let in.
            sink.Receive([], from);
            caller.Dispose();
            return;
        }

        Close();
        _desk = caller;
        _desk.Blocking = false;
        _inbox.Begin(from);
    }

    private void Close()
    {
        _desk?.Dispose();
        _desk = null;
    }
}
