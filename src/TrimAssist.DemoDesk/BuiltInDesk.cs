using System.Net;
using System.Net.Sockets;
using TrimAssist.DemoDesk.Festival;

namespace TrimAssist.DemoDesk;

/// <summary>
/// The built-in desk: an OSC peer on its own loopback socket with an invented festival in front of it. Whoever talks to it
/// does so by datagrams, like with any other desk.
/// </summary>
public sealed class BuiltInDesk : IDisposable
{
    /// <summary>After a stall the desk makes up for at most this many frames; the rest never happened.</summary>
    private const int MostMadeUp = 10;

    private readonly DemoMixer _mixer;
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
    private readonly DemoDeskPeer _peer;

    /// <summary>Binds the desk's socket. Nothing moves until <see cref="Step"/> is called.</summary>
    /// <param name="seed">The same seed gives the same festival.</param>
    /// <param name="time">The desk's clock.</param>
    public BuiltInDesk(ulong seed, TimeProvider time)
        : this(new DemoMixer(seed), time)
    {
    }

    internal BuiltInDesk(DemoMixer mixer, TimeProvider time)
    {
        _mixer = mixer;
        _socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        _peer = new DemoDeskPeer(_mixer, _socket, time);
    }

    /// <summary>Where the desk listens.</summary>
    public IPEndPoint EndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <summary>Where the festival stands.</summary>
    public FestivalMoment Moment => _mixer.Moment;

    /// <summary>What really happened, for a summary.</summary>
    public FestivalTruth Truth => _mixer.Truth;

    /// <summary>Number of acts of the festival.</summary>
    public int Acts => _mixer.Acts;

    /// <summary>Frames sent so far.</summary>
    public long Frames => _mixer.Frames;

    /// <summary>Datagrams that meant nothing to the desk.</summary>
    public long Ignored => _peer.Ignored;

    /// <summary>Length of one step.</summary>
    public static TimeSpan StepLength { get; } = TimeSpan.FromSeconds(DemoMixer.FrameLengthS);

    /// <summary>Answers what waits on the socket without moving the festival.</summary>
    public void Answer() => _peer.AnswerWaiting();

    /// <summary>Moves the festival by one meter frame and sends it.</summary>
    public void Step()
    {
        _peer.AnswerWaiting();
        var (meters, newAct) = _mixer.Advance();
        _peer.SendMeters(meters.Span);
        if (newAct)
            _peer.TellEverything();
    }

    /// <summary>Runs in real time until cancelled, answering within a few milliseconds.</summary>
    public async Task RunAsync(TimeProvider time, CancellationToken cancellationToken)
    {
        var answering = StepLength / 10;
        using var timer = new PeriodicTimer(answering, time);
        var began = time.GetTimestamp();
        var done = 0L;
        try
        {
            while (await timer.WaitForNextTickAsync(cancellationToken))
            {
                _peer.AnswerWaiting();
                var due = (long)(time.GetElapsedTime(began) / StepLength) - done;
                done += due;
                for (var left = Math.Min(due, MostMadeUp); left > 0; left--)
                    Step();
            }
        }
        catch (OperationCanceledException)
        {
            // The usual end.
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();
}
