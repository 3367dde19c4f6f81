using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Acceptance.Page;

/// <summary>A desk on a loopback socket whose players do as the test says: quiet, playing, pulling a plug, or no meters at all.</summary>
internal sealed class BenchDesk : IAsyncDisposable
{
    private const double RestDbfs = -75;
    private const int PhraseFrames = 40;
    private static readonly TimeSpan FrameLength = TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(2);
    private static readonly double[] Pop = [-4, -20, -38, -56];

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly ConcurrentDictionary<string, OscArgument> _values = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<int, double> _playing = new();
    private readonly ConcurrentDictionary<int, int> _popping = new();
    private readonly CancellationTokenSource _off = new();
    private readonly TimeProvider _time;
    private readonly Thread _running;
    private EndPoint? _subscriber;
    private long _frame;

    /// <summary>Switches it on.</summary>
    /// <param name="time">The clock that it shares with the service.</param>
    /// <param name="inputs">How many inputs it has; the first six have names.</param>
    public BenchDesk(TimeProvider time, int inputs)
    {
        _time = time;
        Inputs = inputs;
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        for (var input = 1; input <= Inputs; input++)
        {
            _values[Address(input, "gain")] = OscArgument.Of(30f);
            _values[Address(input, "pad")] = OscArgument.Of(0);
            _values[Address(input, "closed")] = OscArgument.Of(0);
            _values[Address(input, "name")] = OscArgument.Of(input <= 6 ? $"Bench {input}" : "");
        }

        _running = new Thread(Run) { IsBackground = true, Name = "bench desk" };
        _running.Start();
    }

    public int Inputs { get; }

    /// <summary>Every write that the desk took, as address and value.</summary>
    public ConcurrentQueue<string> Writes { get; } = new();

    /// <summary>Whether meters are sent.</summary>
    public bool SendsMeters { get; set; } = true;

    /// <summary>Has a player play with peaks around a level.</summary>
    public void Play(int input, double peakDbfs) => _playing[input] = peakDbfs;

    /// <summary>Has a player rest.</summary>
    public void Rest(int input) => _playing.TryRemove(input, out _);

    /// <summary>Pulls a plug.</summary>
    public void PullPlug(int input) => _popping[input] = 0;

    /// <summary>Moves a control by hand.</summary>
    public void Set(int input, string control, int value) => _values[Address(input, control)] = OscArgument.Of(value);

    /// <summary>The writes that went to one input.</summary>
    public IReadOnlyList<string> WritesTo(int input) => [.. Writes.Where(write => write.StartsWith(string.Create(CultureInfo.InvariantCulture, $"/bench/{input}/"), StringComparison.Ordinal))];

    /// <summary>Writes the profile that describes this desk.</summary>
    public string WriteProfile(string folder)
    {
        var file = Path.Combine(folder, "bench.toml");
        File.WriteAllText(file, $$"""
            id = "bench"
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
            [controls.label]
            address = "/bench/{input}/name"
            """);
        return file;
    }

    public async ValueTask DisposeAsync()
    {
        await _off.CancelAsync();
        _running.Join();
        _off.Dispose();
        _socket.Dispose();
    }

    private static string Address(int input, string control) => string.Create(CultureInfo.InvariantCulture, $"/bench/{input}/{control}");

    // A thread of its own, as a desk is a machine of its own: a busy thread pool must not hold its frames back.
    private void Run()
    {
        var began = _time.GetTimestamp();
        while (!_off.IsCancellationRequested)
        {
            _socket.Poll(LongestWait, SelectMode.SelectRead);
            AnswerWaiting();
            for (; _time.GetElapsedTime(began) >= FrameLength * (_frame + 1); _frame++)
                SendFrame();
        }
    }

    private void AnswerWaiting()
    {
        var bytes = new byte[2048];
        while (_socket.Available > 0)
        {
            EndPoint from = new IPEndPoint(IPAddress.Any, 0);
            var length = Receive(bytes, ref from);
            if (!OscMessage.TryParse(bytes.AsSpan(0, length), out var message, out _) || message is null)
                continue;
            if (message.Address == "/bench/follow")
                _subscriber = from;
            else if (_values.ContainsKey(message.Address))
                Answer(message, from);
        }
    }

    private int Receive(byte[] bytes, ref EndPoint from)
    {
        try
        {
            return _socket.ReceiveFrom(bytes, ref from);
        }
        catch (SocketException)
        {
            // A service that went away refuses what was sent to it: told here, and of no matter.
            return 0;
        }
    }

    private void Answer(OscMessage message, EndPoint to)
    {
        if (message.Arguments.Count > 0)
        {
            _values[message.Address] = message.Arguments[0];
            Writes.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{message.Address} {message.Arguments[0].Number}"));
        }

        Send(new OscMessage(message.Address, _values[message.Address]), to);
    }

    private void SendFrame()
    {
        var peaks = Enumerable.Range(1, Inputs).Select(PeakOf).ToArray();
        if (!SendsMeters || _subscriber is not { } subscriber)
            return;
        Send(new OscMessage("/bench/tops", Blob(peaks)), subscriber);
        Send(new OscMessage("/bench/means", Blob(peaks.Select((peak, index) => peak - (_playing.ContainsKey(index + 1) ? 10 : 6)))), subscriber);
    }

    private double PeakOf(int input)
    {
        if (_popping.TryGetValue(input, out var at))
        {
            if (at < Pop.Length)
            {
                _popping[input] = at + 1;
                return Pop[at];
            }

            _popping.TryRemove(input, out _);
        }

        // Playing swells, breathes and rests between phrases; rest is a converter's own noise.
        var rest = RestDbfs + (0.2 * (_frame % 4));
        return _playing.TryGetValue(input, out var peak) && PhraseDb((int)(_frame % PhraseFrames)) is { } under
            ? Math.Max(rest, peak - under + (2.5 * Math.Sin((_frame * 0.35) + input)) + (0.4 * (_frame % 3)))
            : rest;
    }

    // How far under its peak the phrase is, frame by frame: a second and a half of playing, half a second of rest.
    private static double? PhraseDb(int frame) => frame switch
    {
        < 6 => 5.0 * (6 - frame),
        < 24 => 0,
        < 30 => 6.0 * (frame - 23),
        _ => null,
    };

    private OscArgument Blob(IEnumerable<double> levels)
    {
        var bytes = new byte[Inputs * sizeof(float)];
        foreach (var (index, level) in levels.Index())
            BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan(index * sizeof(float)), (float)level);
        return OscArgument.OfBlob(bytes);
    }

    private void Send(OscMessage message, EndPoint to)
    {
        try
        {
            _socket.SendTo(message.Encode(), to);
        }
        catch (SocketException)
        {
            // The service is away; it will subscribe again.
        }
    }
}
