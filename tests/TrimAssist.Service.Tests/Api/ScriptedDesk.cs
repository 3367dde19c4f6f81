using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Tests.Api;

/// <summary>
/// A desk on a loopback socket that does as the test says. It answers by itself, as a real desk does; its meters move only
/// when the test sends a frame.
/// </summary>
internal sealed class ScriptedDesk : IDisposable
{
    public const int Inputs = 8;
    private const double RestDbfs = -75;
    private const int PhraseFrames = 40;
    private static readonly double[] Pop = [-4, -20, -38, -56];

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly ConcurrentDictionary<string, OscArgument> _values = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<int, double> _playing = new();
    private readonly ConcurrentDictionary<int, int> _popping = new();
    private readonly Thread _answering;
    private volatile EndPoint? _subscriber;
    private long _frame;

    public ScriptedDesk()
    {
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        for (var input = 1; input <= Inputs; input++)
        {
            _values[Address(input, "gain")] = OscArgument.Of(30f);
            _values[Address(input, "closed")] = OscArgument.Of(0);
            _values[Address(input, "fader")] = OscArgument.Of(-5f);
            _values[Address(input, "name")] = OscArgument.Of($"Bench {input}");
            // The last two inputs hang on one socket.
            _values[Address(input, "from")] = OscArgument.Of(input >= Inputs - 1 ? "box 7" : $"box {input}");
        }

        _answering = new Thread(Answer) { IsBackground = true };
        _answering.Start();
    }

    /// <summary>Every write that the desk got, as address and value.</summary>
    public ConcurrentQueue<string> Writes { get; } = new();

    /// <summary>Whether a write is taken; a desk under lock answers with what it has.</summary>
    public bool TakesWrites { get; set; } = true;

    /// <summary>Whether queries and writes are answered at all.</summary>
    public bool Answers { get; set; } = true;

    /// <summary>Whether a write is the last thing that the desk hears before it answers nothing any more.</summary>
    public bool FallsSilentAtWrite { get; set; }

    /// <summary>Whether somebody has subscribed to the meters.</summary>
    public bool HasSubscriber => _subscriber is not null;

    public void Play(int input, double peakDbfs) => _playing[input] = peakDbfs;

    public void Rest() => _playing.Clear();

    public void PullPlug(int input) => _popping[input] = 0;

    /// <summary>Somebody turns a control at the desk; whoever subscribed is told unless the hand is secret.</summary>
    public void Turn(int input, string control, float value, bool told = true)
    {
        _values[Address(input, control)] = OscArgument.Of(value);
        if (told && _subscriber is { } subscriber)
            Send(new OscMessage(Address(input, control), OscArgument.Of(value)).Encode(), subscriber);
    }

    /// <summary>Sends the next frame of peaks and means.</summary>
    public void SendFrame()
    {
        _frame++;
        var peaks = Enumerable.Range(1, Inputs).Select(PeakOf).ToArray();
        if (_subscriber is not { } subscriber)
            return;
        Send(new OscMessage("/bench/tops", Blob(peaks)).Encode(), subscriber);
        Send(new OscMessage("/bench/means", Blob([.. peaks.Select((peak, index) => peak - (_playing.ContainsKey(index + 1) ? 10 : 6))])).Encode(), subscriber);
    }

    public void SendRaw(byte[] datagram)
    {
        if (_subscriber is { } subscriber)
            Send(datagram, subscriber);
    }

    /// <summary>The profile that describes this desk.</summary>
    public string Profile(string id = "bench") => $$"""
        id = "{{id}}"
        name = "Bench desk"
        inputs = {{Inputs}}
        [connection]
        transport = "udp"
        desk = "127.0.0.1:{{((IPEndPoint)_socket.LocalEndPoint!).Port}}"
        [[subscription]]
        address = "/bench/follow"
        arguments = ["levels"]
        renew_s = 2.0
        [[meters]]
        address = "/bench/tops"
        quantity = "peak"
        unit = "dbfs"
        packing = "blob"
        element = "float32"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        [[meters]]
        address = "/bench/means"
        quantity = "rms"
        unit = "dbfs"
        packing = "blob"
        element = "float32"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        [controls.trim]
        address = "/bench/{input}/gain"
        unit = "db"
        value_type = "float"
        range_db = [0.0, 60.0]
        step_db = 1.0
        stage = "analogue"
        [controls.mute]
        address = "/bench/{input}/closed"
        on = 1
        off = 0
        covers = ["main", "sends", "direct"]
        [controls.fader]
        address = "/bench/{input}/fader"
        unit = "db"
        range_db = [-90.0, 10.0]
        [controls.source]
        address = "/bench/{input}/from"
        [controls.label]
        address = "/bench/{input}/name"
        """;

    public void Dispose()
    {
        _socket.Dispose();
        _answering.Join();
    }

    private static string Address(int input, string control) => string.Create(CultureInfo.InvariantCulture, $"/bench/{input}/{control}");

    private void Answer()
    {
        var bytes = new byte[2048];
        while (true)
        {
            EndPoint from = new IPEndPoint(IPAddress.Any, 0);
            try
            {
                var length = _socket.ReceiveFrom(bytes, ref from);
                if (OscMessage.TryParse(bytes.AsSpan(0, length), out var message, out _) && message is not null)
                    Answer(message, from);
            }
            catch (SocketException refused) when (refused.SocketErrorCode == SocketError.ConnectionRefused)
            {
                // The service went away.
            }
            catch (Exception off) when (off is SocketException or ObjectDisposedException)
            {
                return;
            }
        }
    }

    private void Answer(OscMessage message, EndPoint from)
    {
        if (message.Address == "/bench/follow")
        {
            _subscriber = from;
            return;
        }

        if (!_values.TryGetValue(message.Address, out var value))
            return;
        if (message.Arguments.Count > 0)
        {
            Writes.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{message.Address} {message.Arguments[0].Number}"));
            Answers &= !FallsSilentAtWrite;
            if (TakesWrites)
                _values[message.Address] = value = message.Arguments[0];
        }

        if (Answers)
            Send(new OscMessage(message.Address, value).Encode(), from);
    }

    private void Send(byte[] datagram, EndPoint to)
    {
        try
        {
            _socket.SendTo(datagram, to);
        }
        catch (SocketException refused) when (refused.SocketErrorCode == SocketError.ConnectionRefused)
        {
            // The word that an earlier datagram met nobody; this one has not left yet.
            _socket.SendTo(datagram, to);
        }
    }

    private double PeakOf(int input)
    {
        if (_popping.TryGetValue(input, out var at) && at < Pop.Length)
        {
            _popping[input] = at + 1;
            return Pop[at];
        }

        // Playing swells, breathes and rests between phrases; rest is a converter's own noise.
        var rest = RestDbfs + (0.2 * (_frame % 4));
        return _playing.TryGetValue(input, out var peak) && PhraseDb((int)(_frame % PhraseFrames)) is { } under
            ? Math.Max(rest, peak - under + (2.5 * Math.Sin((_frame * 0.35) + input)) + (0.4 * (_frame % 3)))
            : rest;
    }

    private static double? PhraseDb(int frame) => frame switch
    {
        < 6 => 5.0 * (6 - frame),
        < 24 => 0,
        < 30 => 6.0 * (frame - 23),
        _ => null,
    };

    private static OscArgument Blob(double[] levels)
    {
        var bytes = new byte[levels.Length * sizeof(float)];
        for (var index = 0; index < levels.Length; index++)
            BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(index * sizeof(float)), (float)levels[index]);
        return OscArgument.OfBlob(bytes);
    }
}
