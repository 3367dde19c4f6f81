using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>The plainest desk there can be, on a real loopback socket: answers questions, echoes changes, sends a meter every 20 ms or so.</summary>
internal sealed class PlainDesk : IDisposable
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly CancellationTokenSource _stopping = new();
    private readonly Thread _thread;
    private float _trim = 10;

    public PlainDesk()
    {
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        Profile = ProfileTexts.Least.Replace("127.0.0.1:9000", $"{_socket.LocalEndPoint}", StringComparison.Ordinal).Replace("id = \"least\"", "id = \"demo\"", StringComparison.Ordinal) + """
            [[subscription]]
            address = "/hello"
            renew_s = 1
            [controls.trim]
            address = "/in/{input}/trim"
            unit = "db"
            range_db = [0.0, 54.0]
            step_db = 1.0
            """;
        _thread = new Thread(Run) { IsBackground = true };
        _thread.Start();
    }

    public string Profile { get; }

    public ConcurrentBag<OscMessage> Received { get; } = [];

    public void SendEmptyTo(IPEndPoint listener) => _socket.SendTo([], listener);

    public void Dispose()
    {
        _stopping.Cancel();
        _thread.Join();
        _socket.Dispose();
        _stopping.Dispose();
    }

    private void Run()
    {
        var buffer = new byte[2048];
        EndPoint? listener = null;
        for (var frame = 0; !_stopping.IsCancellationRequested; frame++)
        {
            if (listener is not null)
                _socket.SendTo(new OscMessage("/lv/1", OscArgument.Of(-20f - (frame % 9))).Encode(), listener);
            if (!_socket.Poll(TimeSpan.FromMilliseconds(20), SelectMode.SelectRead))
                continue;
            listener ??= new IPEndPoint(IPAddress.Loopback, 0);
            var length = _socket.ReceiveFrom(buffer, ref listener);
            if (OscMessage.TryParse(buffer.AsSpan(0, length), out var message, out _))
                Answer(message!, listener);
        }
    }

    private void Answer(OscMessage message, EndPoint listener)
    {
        Received.Add(message);
        if (message.Address is not "/in/1/trim")
            return;
        _trim = message.Arguments.Count > 0 ? (float)message.Arguments[0].Number!.Value : _trim;
        _socket.SendTo(new OscMessage(message.Address, OscArgument.Of(_trim)).Encode(), listener);
    }
}
