using System.Globalization;
using System.Net;
using System.Net.Sockets;
using TrimAssist.DemoDesk.Mixing;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.DemoDesk;

/// <summary>The demo desk's OSC side: subscriptions that lapse, queries, writes with their echo, meters. Knows nothing but its socket.</summary>
internal sealed class DemoDeskPeer(DemoMixer mixer, Socket socket, TimeProvider time)
{
    /// <summary>How long a subscription lasts without a renewal.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(12);

    private const int MaxSubscribers = 8;

    /// <summary>How many inputs are told of in one frame after a recall: a heap of datagrams at once would overrun a small receiver.</summary>
    private const int ToldAFrame = 4;

    private readonly byte[] _received = new byte[2048];
    private readonly byte[] _sent = new byte[4096];
    private readonly Dictionary<IPEndPoint, long> _subscribers = [];
    private int _nextTold = int.MaxValue;

    /// <summary>Datagrams that were not OSC, or meant nothing here.</summary>
    public long Ignored { get; private set; }

    /// <summary>Answers everything that waits on the socket.</summary>
    public void AnswerWaiting()
    {
        while (socket.Poll(0, SelectMode.SelectRead))
        {
            EndPoint from = new IPEndPoint(IPAddress.Any, 0);
            int length;
            try
            {
                length = socket.ReceiveFrom(_received, ref from);
            }
            catch (SocketException)
            {
                // A subscriber that went away, or a datagram larger than anything this desk understands.
                Ignored++;
                continue;
            }

            Answer(_received.AsSpan(0, length), (IPEndPoint)from);
        }
    }

    /// <summary>Sends one frame of meters to whoever subscribed.</summary>
    public void SendMeters(ReadOnlySpan<MeterPair> meters)
    {
        foreach (var lapsed in _subscribers.Where(one => time.GetElapsedTime(one.Value) >= Lease).Select(one => one.Key).ToList())
            _subscribers.Remove(lapsed);
        if (_subscribers.Count == 0)
            return;
        TellOn();
        var writer = new OscWriter(_sent);
        writer.BeginBundle(OscTimeTag.From(time.GetUtcNow()));
        WritePeaks(ref writer, meters);
        for (var input = 1; input <= meters.Length; input++)
            new OscMessage(string.Create(CultureInfo.InvariantCulture, $"/glow/{input:00}/mean"), OscArgument.Of(meters[input - 1].RmsDbfs)).WriteTo(ref writer);
        writer.EndBundle();
        if (writer.TryFinish(out var length))
            SendToAll(_sent.AsSpan(0, length));
    }

    /// <summary>Begins to tell every subscriber everything, as a desk does whose scene was recalled: a few inputs a frame, a bundle each.</summary>
    public void TellEverything() => _nextTold = 1;

    private void TellOn()
    {
        for (var left = ToldAFrame; left > 0 && _nextTold <= mixer.Inputs; left--, _nextTold++)
        {
            var writer = new OscWriter(_sent);
            writer.BeginBundle(OscTimeTag.From(time.GetUtcNow()));
            foreach (var control in DemoControls.All)
                control.Tell(mixer, _nextTold).WriteTo(ref writer);
            writer.EndBundle();
            if (writer.TryFinish(out var length))
                SendToAll(_sent.AsSpan(0, length));
        }
    }

    private static void WritePeaks(ref OscWriter writer, ReadOnlySpan<MeterPair> meters)
    {
        Span<byte> levels = stackalloc byte[meters.Length * sizeof(float)];
        for (var index = 0; index < meters.Length; index++)
            System.Buffers.Binary.BinaryPrimitives.WriteSingleBigEndian(levels[(index * sizeof(float))..], meters[index].PeakDbfs);
        new OscMessage("/glow/tops", OscArgument.OfBlob(levels)).WriteTo(ref writer);
    }

    private void Answer(ReadOnlySpan<byte> packet, IPEndPoint from)
    {
        var reader = new OscPacketReader(packet);
        while (reader.TryReadMessage(out var message))
            Answer(OscMessage.From(message), from);
        if (reader.Error != OscError.None)
            Ignored++;
    }

    private void Answer(OscMessage message, IPEndPoint from)
    {
        if (string.Equals(message.Address, "/glow/join", StringComparison.Ordinal))
        {
            if (_subscribers.ContainsKey(from) || _subscribers.Count < MaxSubscribers)
                _subscribers[from] = time.GetTimestamp();
            return;
        }

        var (control, input) = DemoControls.Find(message.Address, mixer.Inputs);
        if (control is null)
        {
            Ignored++;
            return;
        }

        // A bare address asks, and the asker is answered; an argument sets, and everybody hears what the desk really has now.
        var sets = message.Arguments is [{ Number: not null }, ..] && control.Set is not null;
        if (sets)
            control.Set!(mixer, input, message.Arguments[0].Number!.Value);
        var told = control.Tell(mixer, input).Encode();
        Send(told, from);
        if (!sets)
            return;
        foreach (var other in _subscribers.Keys.Where(other => !other.Equals(from)))
            Send(told, other);
    }

    private void SendToAll(ReadOnlySpan<byte> bytes)
    {
        foreach (var subscriber in _subscribers.Keys)
            Send(bytes, subscriber);
    }

    private void Send(ReadOnlySpan<byte> bytes, IPEndPoint to)
    {
        try
        {
            socket.SendTo(bytes, to);
        }
        catch (SocketException)
        {
            // A subscriber that went away lapses by itself.
            Ignored++;
        }
    }
}
