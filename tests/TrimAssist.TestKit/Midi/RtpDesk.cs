using System.Buffers.Binary;
using System.Net;
using System.Net.Sockets;

namespace TrimAssist.TestKit.Midi;

/// <summary>
/// A desk's network MIDI side for tests: accepts one RTP-MIDI session on two loopback ports, written by hand from the public descriptions
/// and not with the program's own means. Its packets carry a recovery journal with the last value of every controller.
/// </summary>
public sealed class RtpDesk : IDisposable
{
    private const uint OwnSource = 0x0DE5C0DE;
    private readonly Socket[] _sockets = new Socket[2];
    private readonly EndPoint?[] _service = new EndPoint?[2];
    private readonly byte[] _bytes = new byte[65_536];
    private readonly SortedDictionary<(int Channel, int Number), int> _controllers = [];
    private ushort _sequence = 100;
    private bool _isOn = true;

    /// <summary>Opens two ports side by side.</summary>
    public RtpDesk()
    {
        for (var left = 64; ; left--)
        {
            _sockets[0] = Bound(0);
            try
            {
                _sockets[1] = Bound(EndPoint.Port + 1);
                return;
            }
            catch (SocketException) when (left > 0)
            {
                _sockets[0].Dispose();
            }
        }
    }

    /// <summary>The lower port.</summary>
    public IPEndPoint EndPoint => (IPEndPoint)_sockets[0].LocalEndPoint!;

    /// <summary>Whether a session is open.</summary>
    public bool HasService => _service[0] is not null && _service[1] is not null;

    /// <summary>What the desk does with a message; by default nothing.</summary>
    public Action<byte[]> Answer { get; set; } = static _ => { };

    /// <summary>What the desk does once a session is open; by default nothing.</summary>
    public Action Greet { get; set; } = static () => { };

    /// <summary>Whether a packet is lost on its way to the desk.</summary>
    public Func<bool> IsLost { get; set; } = static () => false;

    /// <summary>Every message heard so far.</summary>
    public List<byte[]> Heard { get; } = [];

    /// <summary>Takes in and answers whatever waits.</summary>
    public void Attend()
    {
        for (var port = 0; port < 2; port++)
        {
            while (_sockets[port].Poll(TimeSpan.Zero, SelectMode.SelectRead))
            {
                EndPoint from = new IPEndPoint(IPAddress.Any, 0);
                var length = _sockets[port].ReceiveFrom(_bytes, ref from);
                if (_isOn && !IsLost())
                    Take(port, _bytes.AsSpan(0, length).ToArray(), from);
            }
        }
    }

    /// <summary>Sends whole messages in one packet.</summary>
    /// <param name="messages">The messages, each with its own status.</param>
    /// <param name="lost">Whether the packet is lost on its way: its number is used all the same.</param>
    public void Say(IReadOnlyList<byte[]> messages, bool lost = false)
    {
        List<byte> list = [];
        foreach (var message in messages)
        {
            // A delta time stands before every command but the first.
            if (list.Count > 0)
                list.Add(0);
            list.AddRange(message);
            if (message[0] >> 4 == 0xB)
                _controllers[(message[0] & 0x0F, message[1])] = message[2];
        }

        var packet = new byte[12];
        (packet[0], packet[1]) = (0x80, 0x80 | 97);
        BinaryPrimitives.WriteUInt16BigEndian(packet.AsSpan(2), _sequence++);
        BinaryPrimitives.WriteUInt32BigEndian(packet.AsSpan(8), OwnSource);
        var journal = Journal();
        var flags = 0x80 | (journal.Length > 0 ? 0x40 : 0) | (list.Count >> 8);
        if (!lost && _service[1] is { } service)
            _sockets[1].SendTo([.. packet, (byte)flags, (byte)list.Count, .. list, .. journal], service);
    }

    /// <summary>Switches the desk off: it hears and says nothing, and knows nobody any more.</summary>
    public void TurnOff()
    {
        (_isOn, _service[0], _service[1]) = (false, null, null);
        _controllers.Clear();
    }

    /// <summary>Switches it on again, where it was.</summary>
    public void TurnOn() => _isOn = true;

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var socket in _sockets)
            socket.Dispose();
    }

    private void Take(int port, byte[] packet, EndPoint from)
    {
        if (packet is [0xFF, 0xFF, var first, var second, ..])
            TakeSession(port, packet, from, $"{(char)first}{(char)second}");
        else if (port == 1 && HasService)
            TakeMidi(packet);
    }

    private void TakeSession(int port, byte[] packet, EndPoint from, string command)
    {
        switch (command)
        {
            case "IN":
                _service[port] = from;
                byte[] accepted = [0xFF, 0xFF, (byte)'O', (byte)'K', .. packet[4..12], 0, 0, 0, 0, (byte)'d', 0];
                BinaryPrimitives.WriteUInt32BigEndian(accepted.AsSpan(12), OwnSource);
                _sockets[port].SendTo(accepted, from);
                if (port == 1)
                    Greet();
                break;
            case "CK" when packet[8] == 0:
                packet[8] = 1;
                BinaryPrimitives.WriteUInt32BigEndian(packet.AsSpan(4), OwnSource);
                _sockets[1].SendTo(packet, from);
                break;
            case "BY":
                (_service[0], _service[1]) = (null, null);
                break;
        }
    }

    private void TakeMidi(byte[] packet)
    {
        var isLong = (packet[12] & 0x80) != 0;
        var length = isLong ? ((packet[12] & 0x0F) << 8) | packet[13] : packet[12] & 0x0F;
        var rest = packet[(isLong ? 14 : 13)..][..length];
        while (rest.Length > 0)
        {
            var size = rest[0] == 0xF0 ? Array.IndexOf(rest, (byte)0xF7) + 1 : rest[0] >> 4 is 0xC or 0xD ? 2 : 3;
            Heard.Add(rest[..size]);
            Answer(rest[..size]);
            rest = rest[Math.Min(rest.Length, size + 1)..];
        }
    }

    // RFC 6295, figures 8 and 9 and appendix A.3: chapter C alone for each channel with controllers.
    private byte[] Journal()
    {
        List<byte> channels = [];
        var count = 0;
        foreach (var channel in _controllers.GroupBy(one => one.Key.Channel))
        {
            var logs = channel.ToList();
            var length = 3 + 1 + (2 * logs.Count);
            channels.AddRange([(byte)((channel.Key << 3) | (length >> 8)), (byte)length, 0x40, (byte)(logs.Count - 1)]);
            foreach (var ((_, number), value) in logs)
                channels.AddRange([(byte)number, (byte)value]);
            count++;
        }

        return count == 0 ? [] : [(byte)(0x20 | (count - 1)), 0, 0, .. channels];
    }

    private static Socket Bound(int port)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        try
        {
            socket.Bind(new IPEndPoint(IPAddress.Loopback, port));
            return socket;
        }
        catch (SocketException)
        {
            socket.Dispose();
            throw;
        }
    }
}
