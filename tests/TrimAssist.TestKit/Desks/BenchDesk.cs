using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>
/// A desk on a loopback socket with players before it that do as the test says. It answers by itself, as a real desk does; its meters come
/// by a clock, or frame by frame when the test says so.
/// </summary>
public sealed class BenchDesk : IDisposable
{
    private const string Follow = "/bench/follow";
    private static readonly TimeSpan FrameLength = TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan LongestWait = TimeSpan.FromMilliseconds(2);

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly ConcurrentDictionary<string, OscArgument> _values = new(StringComparer.Ordinal);
    private readonly BenchPlayers _players;
    private readonly bool _isWhole;
    private readonly TimeProvider? _clock;
    private readonly Thread _running;
    private volatile EndPoint? _subscriber;
    private volatile bool _isOff;
    private long _frame;

    /// <summary>Switches it on.</summary>
    /// <param name="inputs">How many inputs it has.</param>
    /// <param name="named">How many of them have names, from the first.</param>
    /// <param name="isWhole">Whether it tells faders and sockets too; then the last two inputs hang on one socket.</param>
    /// <param name="clock">The clock that its meters come by; <see langword="null"/> where they come with <see cref="SendFrame"/> only.</param>
    public BenchDesk(int inputs, int named, bool isWhole = false, TimeProvider? clock = null)
    {
        (Inputs, _isWhole, _clock, _players) = (inputs, isWhole, clock, new BenchPlayers(inputs));
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        for (var input = 1; input <= inputs; input++)
        {
            _values[Address(input, "gain")] = OscArgument.Of(30f);
            _values[Address(input, "closed")] = OscArgument.Of(0);
            _values[Address(input, "fader")] = OscArgument.Of(-5f);
            _values[Address(input, "name")] = OscArgument.Of(input <= named ? $"Bench {input}" : "");
            _values[Address(input, "from")] = OscArgument.Of($"box {(input == inputs ? inputs - 1 : input)}");
        }

        // A thread of its own, as a desk is a machine of its own: a busy thread pool must not hold its frames back.
        _running = new Thread(Run) { IsBackground = true, Name = "bench desk" };
        _running.Start();
    }

    /// <summary>How many inputs it has.</summary>
    public int Inputs { get; }

    /// <summary>Every write that reached the desk, as address and value.</summary>
    public ConcurrentQueue<string> Writes { get; } = new();

    /// <summary>Whether meters are sent.</summary>
    public bool SendsMeters { get; set; } = true;

    /// <summary>Whether a write is taken; a desk under lock answers with what it has.</summary>
    public bool TakesWrites { get; set; } = true;

    /// <summary>Whether queries and writes are answered at all.</summary>
    public bool Answers { get; set; } = true;

    /// <summary>Whether a write is the last thing that the desk hears before it answers nothing any more.</summary>
    public bool FallsSilentAtWrite { get; set; }

    /// <summary>Whether somebody has subscribed to the meters.</summary>
    public bool HasSubscriber => _subscriber is not null;

    /// <summary>Names an input, before anybody asks.</summary>
    public void Name(int input, string name) => _values[Address(input, "name")] = OscArgument.Of(name);

    /// <summary>Has a player play with peaks around a level.</summary>
    public void Play(int input, double peakDbfs) => _players.Play(input, peakDbfs);

    /// <summary>Has a player rest.</summary>
    public void Rest(int input) => _players.Rest(input);

    /// <summary>Has everybody rest.</summary>
    public void Rest() => _players.Rest();

    /// <summary>Pulls a plug.</summary>
    public void PullPlug(int input) => _players.PullPlug(input);

    /// <summary>The writes that went to one input.</summary>
    public IReadOnlyList<string> WritesTo(int input) => [.. Writes.Where(write => write.StartsWith(Address(input, ""), StringComparison.Ordinal))];

    /// <summary>Somebody turns a control at the desk; whoever subscribed is told unless the hand is secret.</summary>
    public void Turn(int input, string control, float value, bool told = true)
    {
        var turned = control == "closed" ? OscArgument.Of((int)value) : OscArgument.Of(value);
        _values[Address(input, control)] = turned;
        if (told && _subscriber is { } subscriber)
            Send(new OscMessage(Address(input, control), turned).Encode(), subscriber);
    }

    /// <summary>Sends the next frame of peaks and means.</summary>
    public void SendFrame()
    {
        var (peaks, means) = _players.Frame(++_frame);
        if (!SendsMeters || _subscriber is not { } subscriber)
            return;
        Send(new OscMessage("/bench/tops", peaks).Encode(), subscriber);
        Send(new OscMessage("/bench/means", means).Encode(), subscriber);
    }

    /// <summary>Sends bytes as they are.</summary>
    public void SendRaw(byte[] datagram)
    {
        if (_subscriber is { } subscriber)
            Send(datagram, subscriber);
    }

    /// <summary>The profile that describes this desk.</summary>
    public string Profile() => PlainProfile.Of("bench", "Bench desk", Inputs, _socket.LocalEndPoint!, """["main", "sends", "direct"]""", Means + (_isWhole ? Routing : ""));

    /// <summary>Writes the profile into a folder.</summary>
    public string WriteProfile(string folder)
    {
        var file = Path.Combine(folder, "bench.toml");
        File.WriteAllText(file, Profile());
        return file;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _isOff = true;
        _running.Join();
        _socket.Dispose();
    }

    private const string Means = """
        [[meters]]
        address = "/bench/means"
        quantity = "rms"
        unit = "dbfs"
        packing = "blob"
        element = "float32"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        [controls.label]
        address = "/bench/{input}/name"

        """;

    private const string Routing = """
        [controls.fader]
        address = "/bench/{input}/fader"
        unit = "db"
        range_db = [-90.0, 10.0]
        [controls.source]
        address = "/bench/{input}/from"
        """;

    private static string Address(int input, string control) => string.Create(CultureInfo.InvariantCulture, $"/bench/{input}/{control}");

    private void Run()
    {
        var bytes = new byte[2048];
        var began = _clock?.GetTimestamp() ?? 0;
        while (!_isOff)
        {
            _socket.Poll(LongestWait, SelectMode.SelectRead);
            while (_socket.Available > 0)
                TakeIn(bytes);
            while (_clock is not null && _clock.GetElapsedTime(began) >= FrameLength * (_frame + 1))
                SendFrame();
        }
    }

    private void TakeIn(byte[] bytes)
    {
        EndPoint from = new IPEndPoint(IPAddress.Any, 0);
        int length;
        try
        {
            length = _socket.ReceiveFrom(bytes, ref from);
        }
        catch (SocketException)
        {
            // A service that went away refuses what was sent to it: told here, and of no matter.
            return;
        }

        if (!OscMessage.TryParse(bytes.AsSpan(0, length), out var message, out _) || message is null)
            return;
        if (message.Address == Follow)
            _subscriber = from;
        else if (_values.TryGetValue(message.Address, out var value))
            Answer(message, value, from);
    }

    private void Answer(OscMessage message, OscArgument value, EndPoint to)
    {
        if (message.Arguments.Count > 0)
        {
            Writes.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{message.Address} {message.Arguments[0].Number}"));
            Answers &= !FallsSilentAtWrite;
            if (TakesWrites)
                _values[message.Address] = value = message.Arguments[0];
        }

        if (Answers)
            Send(new OscMessage(message.Address, value).Encode(), to);
    }

    // The first try may bring the word that an earlier datagram met nobody: then this one has not left yet.
    private void Send(byte[] datagram, EndPoint to)
    {
        if (!TrySend(datagram, to))
            TrySend(datagram, to);
    }

    private bool TrySend(byte[] datagram, EndPoint to)
    {
        try
        {
            _socket.SendTo(datagram, to);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
