using System.Net;
using System.Net.Sockets;
using TrimAssist.Desk.Network;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Surfaces;

/// <summary>Runs one OSC control surface: takes its presses in, and shows it its slots again and again, since a datagram may be lost.</summary>
/// <param name="options">The surface.</param>
/// <param name="desks">The desks.</param>
/// <param name="time">The clock.</param>
/// <param name="vitals">Where the loop shows that it comes round.</param>
/// <param name="log">The log.</param>
internal sealed partial class SurfaceRunner(SurfaceOptions options, DeskHosts desks, TimeProvider time, Vitals vitals, ILogger<SurfaceRunner> log) : BackgroundService
{
    private const int MostPacketsATurn = 32;
    private const int LargestPacket = 4096;

    /// <summary>A picture is repeated this often: until a slot takes a press, three have been sent.</summary>
    private static readonly TimeSpan ShowEvery = TimeSpan.FromMilliseconds(300);

    private static readonly TimeSpan TurnEvery = TimeSpan.FromMilliseconds(50);
    private readonly Socket _socket = new(options.Listen.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
    private readonly SourceFilter _sources = new(options.AcceptFrom);
    private readonly DeskHost _host = desks.Find(options.Desk) ?? throw new UsageException($"surface {options.Name}: no desk is called \"{options.Desk}\".");
    private readonly byte[] _packet = new byte[LargestPacket];
    private SurfacePicture? _shown;
    private TimeSpan _shownAt;
    private string _answer = "";

    /// <summary>Where presses arrive.</summary>
    public IPEndPoint LocalEndPoint => (IPEndPoint)_socket.LocalEndPoint!;

    /// <inheritdoc/>
    public override Task StartAsync(CancellationToken cancellationToken)
    {
        try
        {
            _socket.Bind(options.Listen);
        }
        catch (SocketException taken)
        {
            throw new WorkFailedException($"surface {options.Name}: cannot listen on {options.Listen}: {taken.Message}");
        }

        return base.StartAsync(cancellationToken);
    }

    /// <inheritdoc/>
    public override void Dispose()
    {
        base.Dispose();
        _socket.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var surface = new Surface(options, _host);
        var face = new OscFace(options.Slots, _host.Description.Inputs);
        using var timer = new PeriodicTimer(TurnEvery, time);
        var failed = false;
        var pulse = vitals.Follow($"The loop of surface {options.Name}");
        try
        {
            for (pulse.Beat(); await timer.WaitForNextTickAsync(stoppingToken); pulse.Beat())
                failed = !await TryTurnAsync(surface, face, failed, stoppingToken);
        }
        catch (OperationCanceledException)
        {
            // The service stops.
        }
        finally
        {
            pulse.Rest();
        }
    }

    // A fault on one surface is not the show's: it is said once, and the next turn tries again.
    private async Task<bool> TryTurnAsync(Surface surface, OscFace face, bool failedBefore, CancellationToken stopping)
    {
        try
        {
            foreach (var press in Presses(face))
            {
                var began = _host.Now().Elapsed;
                _answer = await surface.TakeAsync(press);
                LogPress(options.Name, press.Kind, press.Number, _answer);
                if (_host.Now().Elapsed - began <= TurnEvery)
                    continue;
                // What was pressed meanwhile was meant for what stood there then, which nobody can tell any more.
                var missed = Presses(face).Count;
                if (missed > 0)
                    LogMissed(options.Name, missed);
                break;
            }

            Show(surface, await surface.LookAsync());
            return true;
        }
        catch (Exception fault) when (!stopping.IsCancellationRequested)
        {
            if (!failedBefore)
                LogFault(options.Name, fault.Message);
            return false;
        }
    }

    // A flood is left lying in the system's buffer: presses are few.
    private List<Press> Presses(OscFace face)
    {
        List<Press> presses = [];
        var from = new SocketAddress(_socket.AddressFamily);
        for (var count = 0; count < MostPacketsATurn && _socket.Available > 0; count++)
        {
            try
            {
                var length = _socket.ReceiveFrom(_packet, SocketFlags.None, from);
                if (_sources.Admits(from) && face.Read(_packet.AsSpan(0, length)) is { } press)
                    presses.Add(press);
            }
            catch (SocketException)
            {
                // Larger than any press, or the network's word about an earlier picture.
            }
        }

        return presses;
    }

    private void Show(Surface surface, SurfacePicture picture)
    {
        var now = _host.Now().Elapsed;
        if (_shown is not null && picture.Alarm == _shown.Alarm && picture.Slots.SequenceEqual(_shown.Slots) && now - _shownAt < ShowEvery)
            return;
        var left = true;
        try
        {
            _socket.SendTo(OscFace.Write(picture, surface.Link.ToString().ToLowerInvariant(), _answer), options.Feedback);
        }
        catch (SocketException)
        {
            left = false;
        }

        (_shown, _shownAt) = (picture, now);
        surface.Told(left);
    }

    [LoggerMessage(EventId = 2202, Level = LogLevel.Information, Message = "Surface {Surface}: {Count} presses came while another was being taken; press again")]
    private partial void LogMissed(string surface, int count);

    [LoggerMessage(EventId = 2203, Level = LogLevel.Error, Message = "Surface {Surface} failed and goes on: {Fault}")]
    private partial void LogFault(string surface, string fault);

    [LoggerMessage(EventId = 2201, Level = LogLevel.Information, Message = "Surface {Surface}: {Press} {Number}: {Answer}")]
    private partial void LogPress(string surface, PressKind press, int number, string answer);
}
