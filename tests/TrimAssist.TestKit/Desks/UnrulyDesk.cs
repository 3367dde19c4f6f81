using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.TestKit.Desks;

/// <summary>A desk on a loopback socket that may ignore a change, take another value, or answer late; it writes down every change that reached it.</summary>
public sealed class UnrulyDesk : IAsyncDisposable
{
    public const int Inputs = 4;
    private const double RestDbfs = -75;

    // Whoever was killed never says so: a subscription that is not renewed lapses, or hundreds of dead ones drown the living.
    private static readonly TimeSpan SubscriptionLife = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan FrameLength = TimeSpan.FromMilliseconds(50);

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly ConcurrentDictionary<string, OscArgument> _values = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<int, double> _playing = new();
    private readonly ConcurrentDictionary<int, bool> _pops = new();
    private readonly ConcurrentDictionary<string, (EndPoint To, TimeSpan At)> _subscribers = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<(TimeSpan At, Action Do)> _later = new();
    private readonly ConcurrentQueue<TaskCompletionSource> _catchUp = new();
    private readonly CancellationTokenSource _off = new();
    private readonly TimeProvider _clock;
    private readonly long _began;
    private readonly Task _running;
    private long _frame;

    /// <summary>Switches it on.</summary>
    /// <param name="clock">A clock that somebody else moves, who then has the desk <see cref="Attend"/> too; else the desk runs by itself.</param>
    public UnrulyDesk(TimeProvider? clock = null)
    {
        _clock = clock ?? TimeProvider.System;
        _began = _clock.GetTimestamp();
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        for (var input = 1; input <= Inputs; input++)
        {
            _values[$"/desk/{input}/gain"] = OscArgument.Of(30f);
            _values[$"/desk/{input}/closed"] = OscArgument.Of(0);
            _values[$"/desk/{input}/volts"] = OscArgument.Of(0);
        }

        _running = clock is null ? RunAsync(_off.Token) : Task.CompletedTask;
    }

    /// <summary>Every change that reached the desk, as address and value, whatever the desk made of it.</summary>
    public ConcurrentQueue<string> Writes { get; } = new();

    /// <summary>Who is sent meters.</summary>
    public IReadOnlyList<EndPoint> Followers => [.. _subscribers.Values.Select(one => one.To)];

    public bool SendsMeters { get; set; } = true;

    /// <summary>What the desk makes of a change: the value to take, or nothing.</summary>
    public Func<OscArgument, OscArgument?> Takes { get; set; } = static value => value;

    /// <summary>How long the desk takes to answer anything.</summary>
    public TimeSpan AnswersAfter { get; set; }

    /// <summary>Whether the desk answers questions and changes at all.</summary>
    public bool Answers { get; set; } = true;

    /// <summary>What ended the desk before it was switched off; <see langword="null"/> while it runs as it should.</summary>
    public Exception? Fault => _running.Exception;

    /// <summary>Somebody turns a knob at the desk itself; nobody is told until the desk is asked, unless it tells.</summary>
    public void Turn(string address, OscArgument value, bool told = false)
    {
        _values[address] = value;
        if (!told)
            return;
        foreach (var (subscriber, _) in _subscribers.Values)
            Send(new OscMessage(address, value), subscriber);
    }

    public double? Value(string address) => _values[address].Number;

    public void Play(int input, double peakDbfs) => _playing[input] = peakDbfs;

    public void Pop(int input) => _pops[input] = true;

    /// <summary>Waits until everything that was sent to the desk before this has been taken in.</summary>
    public Task CaughtUpAsync()
    {
        var waiting = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        _catchUp.Enqueue(waiting);
        return waiting.Task;
    }

    public string WriteProfile(string folder, string covers = """["main", "sends", "direct"]""")
    {
        var file = Path.Combine(folder, $"{Guid.NewGuid():N}.toml");
        File.WriteAllText(file, PlainProfile.Of("desk", "Unruly desk", Inputs, _socket.LocalEndPoint!, covers, """
            [controls.phantom]
            address = "/desk/{input}/volts"
            on = 1
            off = 0
            """));
        return file;
    }

    public async ValueTask DisposeAsync()
    {
        await _off.CancelAsync();
        await _running;
        _off.Dispose();
        _socket.Dispose();
    }

    /// <summary>Does whatever is due: answers, and meters.</summary>
    public void Attend()
    {
        CatchUp();
        while (_later.TryPeek(out var next) && Elapsed >= next.At && _later.TryDequeue(out next))
            next.Do();
        for (; Elapsed >= FrameLength * (_frame + 1); _frame++)
            SendFrame();
    }

    private TimeSpan Elapsed => _clock.GetElapsedTime(_began);

    private async Task RunAsync(CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(FrameLength / 10, TimeProvider.System);
        try
        {
            while (await timer.WaitForNextTickAsync(cancellationToken))
                Attend();
        }
        catch (OperationCanceledException)
        {
            // The desk is switched off.
        }
    }

    private void CatchUp()
    {
        var asked = _catchUp.Count;
        AnswerWaiting();
        for (; asked > 0 && _catchUp.TryDequeue(out var waiting); asked--)
            waiting.SetResult();
    }

    private void AnswerWaiting()
    {
        var bytes = new byte[2048];
        while (_socket.Available > 0)
        {
            EndPoint from = new IPEndPoint(IPAddress.Any, 0);
            if (!TryReceive(bytes, ref from, out var length))
                continue;
            if (!OscMessage.TryParse(bytes.AsSpan(0, length), out var message, out _) || message is null)
                continue;
            if (message.Address == "/desk/follow")
                _subscribers[from.ToString()!] = (from, Elapsed);
            else if (_values.ContainsKey(message.Address))
                Take(message, from);
        }
    }

    private void Take(OscMessage message, EndPoint from)
    {
        if (message.Arguments.Count > 0)
        {
            Writes.Enqueue(string.Create(CultureInfo.InvariantCulture, $"{message.Address} {message.Arguments[0].Number}"));
            if (Takes(message.Arguments[0]) is { } taken)
                _values[message.Address] = taken;
        }

        if (!Answers)
            return;
        void Answer() => Send(new OscMessage(message.Address, _values[message.Address]), from);
        if (AnswersAfter > TimeSpan.Zero)
            _later.Enqueue((Elapsed + AnswersAfter, Answer));
        else
            Answer();
    }

    private void SendFrame()
    {
        var bytes = new byte[Inputs * sizeof(float)];
        for (var input = 1; input <= Inputs; input++)
            BinaryPrimitives.WriteSingleBigEndian(bytes.AsSpan((input - 1) * sizeof(float)), (float)PeakOf(input));
        if (!SendsMeters)
            return;
        foreach (var (key, (subscriber, at)) in _subscribers)
        {
            if (Elapsed - at > SubscriptionLife)
                _subscribers.TryRemove(key, out _);
            else
                Send(new OscMessage("/desk/tops", OscArgument.OfBlob(bytes)), subscriber);
        }
    }

    private double PeakOf(int input)
    {
        if (_pops.TryRemove(input, out _))
            return -3;
        // Playing swells and rests between phrases; rest is a converter's own noise.
        var rest = RestDbfs + (0.2 * (_frame % 4));
        return _playing.TryGetValue(input, out var peak) && _frame % 40 < 28 ? peak + (2.5 * Math.Sin(_frame * 0.35)) - 2.5 + (0.4 * (_frame % 3)) : rest;
    }

    private bool TryReceive(byte[] bytes, ref EndPoint from, out int length)
    {
        try
        {
            length = _socket.ReceiveFrom(bytes, ref from);
            return true;
        }
        catch (SocketException)
        {
            // Somebody who was killed is told of as a fault of the socket on some systems; the desk goes on.
            length = 0;
            return false;
        }
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
