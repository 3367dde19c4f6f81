using TrimAssist.Service.Failures;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Surfaces;

/// <summary>Runs one control surface: takes its presses in, and shows it its slots again and again, since a picture may be lost.</summary>
/// <param name="options">The surface.</param>
/// <param name="desks">The desks.</param>
/// <param name="time">The clock.</param>
/// <param name="vitals">Where the loop shows that it comes round.</param>
/// <param name="log">The log.</param>
internal sealed partial class SurfaceRunner(SurfaceOptions options, DeskHosts desks, TimeProvider time, Vitals vitals, ILogger<SurfaceRunner> log) : BackgroundService
{
    /// <summary>A picture is repeated this often: until a slot takes a press, three have been sent.</summary>
    private static readonly TimeSpan ShowEvery = TimeSpan.FromMilliseconds(300);

    private static readonly TimeSpan TurnEvery = TimeSpan.FromMilliseconds(50);
    private readonly DeskHost _host = desks.Find(options.Desk) ?? throw new UsageException($"surface {options.Name}: no desk is called \"{options.Desk}\".");
    private ISurfaceLine? _line;
    private SurfacePicture? _shown;
    private TimeSpan _shownAt;
    private string _answer = "";
    private string? _trouble;

    /// <inheritdoc/>
    public override Task StartAsync(CancellationToken cancellationToken)
    {
        try
        {
            _line = Line();
            _line.Open();
        }
        catch (WorkFailedException failed)
        {
            throw new WorkFailedException($"surface {options.Name}: {failed.Message}");
        }

        return base.StartAsync(cancellationToken);
    }

    /// <inheritdoc/>
    public override void Dispose()
    {
        base.Dispose();
        _line?.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var surface = new Surface(options, _host);
        using var timer = new PeriodicTimer(TurnEvery, time);
        var failed = false;
        var pulse = vitals.Follow($"The loop of surface {options.Name}");
        try
        {
            for (pulse.Beat(); await timer.WaitForNextTickAsync(stoppingToken); pulse.Beat())
                failed = !await TryTurnAsync(surface, _line!, failed, stoppingToken);
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

    private ISurfaceLine Line() => options.Place switch
    {
        OscPlace osc => new OscLine(osc, new OscFace(options.Slots, _host.Description.Inputs)),
        MidiPlace midi => new MidiLine(midi, time),
        var other => throw new InvalidOperationException($"No surface is at a {other.GetType().Name}."),
    };

    // A fault on one surface is not the show's: it is said once, and the next turn tries again.
    private async Task<bool> TryTurnAsync(Surface surface, ISurfaceLine line, bool failedBefore, CancellationToken stopping)
    {
        try
        {
            foreach (var press in Presses(surface, line))
            {
                var began = _host.Now().Elapsed;
                _answer = await surface.TakeAsync(press);
                LogPress(options.Name, press.Kind, press.Number, _answer);
                if (_host.Now().Elapsed - began <= TurnEvery)
                    continue;
                // What was pressed meanwhile was meant for what stood there then, which nobody can tell any more.
                var missed = Presses(surface, line).Count;
                if (missed > 0)
                    LogMissed(options.Name, missed);
                break;
            }

            Show(surface, line, await surface.LookAsync());
            return true;
        }
        catch (Exception fault) when (!stopping.IsCancellationRequested)
        {
            if (!failedBefore)
                LogFault(options.Name, fault.Message);
            return false;
        }
    }

    private IReadOnlyList<Press> Presses(Surface surface, ISurfaceLine line)
    {
        var presses = line.Presses(out var isSomebodyNew);
        TellTrouble(line.Trouble);
        if (isSomebodyNew)
        {
            _shown = null;
            surface.Told(left: false);
        }

        return presses;
    }

    private void Show(Surface surface, ISurfaceLine line, SurfacePicture picture)
    {
        var now = _host.Now().Elapsed;
        if (picture.IsSame(_shown) && now - _shownAt < ShowEvery)
            return;
        var left = line.TryShow(picture, surface.Link, _answer);
        (_shown, _shownAt) = (picture, now);
        surface.Told(left);
    }

    private void TellTrouble(string? trouble)
    {
        if (string.Equals(trouble, _trouble, StringComparison.Ordinal))
            return;
        _trouble = trouble;
        if (trouble is null)
            LogThere(options.Name);
        else
            LogTrouble(options.Name, trouble);
    }

    [LoggerMessage(EventId = 2204, Level = LogLevel.Warning, Message = "Surface {Surface}: {Trouble}")]
    private partial void LogTrouble(string surface, string trouble);

    [LoggerMessage(EventId = 2205, Level = LogLevel.Information, Message = "Surface {Surface} is there")]
    private partial void LogThere(string surface);

    [LoggerMessage(EventId = 2202, Level = LogLevel.Information, Message = "Surface {Surface}: {Count} presses came while another was being taken; press again")]
    private partial void LogMissed(string surface, int count);

    [LoggerMessage(EventId = 2203, Level = LogLevel.Error, Message = "Surface {Surface} failed and goes on: {Fault}")]
    private partial void LogFault(string surface, string fault);

    [LoggerMessage(EventId = 2201, Level = LogLevel.Information, Message = "Surface {Surface}: {Press} {Number}: {Answer}")]
    private partial void LogPress(string surface, PressKind press, int number, string answer);
}
