using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Profiles;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Contract;
using TrimAssist.Service.Events;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Loops;

/// <summary>
/// One desk as the service runs it: its loop, its session, its assistant, its gate keeper. Everything about the desk happens
/// on the loop; what comes from elsewhere is posted there.
/// </summary>
public sealed partial class DeskHost : IAsyncDisposable, IDeskSink
{
    private static readonly TimeSpan TickEvery = TimeSpan.FromMilliseconds(100);

    /// <summary>How long a confirmation waits for the word of a desk that answers when asked: five questions, and as old as a picture may be.</summary>
    private static readonly TimeSpan ReadAgainWithin = ConfirmationGate.OldestPicture;

    /// <summary>How long it waits for a desk that so far has told its values only by itself.</summary>
    private static readonly TimeSpan ListenAgainWithin = TimeSpan.FromMilliseconds(600);

    private static readonly TimeSpan ReadUnknownEvery = TimeSpan.FromSeconds(2);

    /// <summary>How often the mutes of safe patches are read: a second must hold two lost answers.</summary>
    private static readonly TimeSpan ReadMutesEvery = TimeSpan.FromMilliseconds(300);

    private readonly DeskLoop _loop;
    private readonly DeskSession _session;
    private readonly DeskAssistant _assistant;
    private readonly GateKeeper? _keeper;
    private readonly MeterBoard _meters;
    private readonly LevelHistory _history;
    private readonly EventHub _hub;
    private readonly GateJournal _journal;
    private readonly LineReader _earlier;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly long _began;
    private readonly CancellationTokenSource _stopping = new();
    private readonly Vitals.Pulse _pulse;
    private bool _started;
    private TimeSpan _lastTick;
    private TimeSpan _lastMuteRead;
    private TimeSpan _lastUnknownRead;

    internal DeskHost(DeskProfile profile, AssistOptions options, DeskHostServices services)
    {
        _time = services.Time;
        _began = services.Time.GetTimestamp();
        _hub = services.Hub;
        _journal = services.Journal;
        _earlier = services.Earlier;
        _log = services.Log;
        var played = services.Replayed(profile.Id);
        _loop = played is null
            ? new DeskLoop(profile, this, services.Time, Turn, services.Tap(profile.Id))
            : new DeskLoop(profile, played, this, services.Time, Turn, tap: null);
        _session = _loop.Session;
        Description = _session.Description;
        _pulse = services.Vitals.Follow($"The loop of desk {Description.Id}");
        _meters = new MeterBoard(Description.Id, Description.Inputs, services.Pictures);
        _history = new LevelHistory(Description.Inputs);
        _assistant = new DeskAssistant(
            Description, options with { AllowanceOf = services.Shows.AllowanceOf }, _session.Settings, input => _session.HeardAgo(input, ProposalKind.Mute), () => Guid.CreateVersion7(_time.GetUtcNow()), new DeskEvents(_hub, _journal, services.Shows));

        // A recording has no desk behind it: no keeper, no writer, nothing to confirm.
        _keeper = played is null ? new GateKeeper(_assistant, ReadAgainAsync, new DeskWriter(_session), _journal, Now, _stopping.Token) : null;
        LastDescribed = Describe();
        LastAlarmFigures = _assistant.Alarms.Figures;
    }

    /// <summary>The desk, as its profile describes it.</summary>
    public DeskDescription Description { get; }

    /// <summary>The desk as it was described at the last tick: for readers that must not wait.</summary>
    public DeskReply LastDescribed { get; private set; }

    /// <summary>How many alarms there were, as of the last two seconds: for readers that must not wait.</summary>
    public AlarmFigures LastAlarmFigures { get; private set; }

    /// <summary>The present moment on the service's clocks.</summary>
    public Moment Now() => new(_time.GetElapsedTime(_began), _time.GetUtcNow());

    /// <summary>Takes in what earlier runs left, then begins to listen.</summary>
    /// <param name="acts">The running order; its first act is on, unless an earlier run of the same session left another.</param>
    internal void Start(IReadOnlyList<ListedAct> acts)
    {
        // The loop does not run yet, so nobody else owns the assistant.
        foreach (var (proposal, changed) in StartupReplay.Read(_earlier, Description.Id, Description.Inputs, Now()))
        {
            _assistant.Recall(proposal);
            if (changed)
                _journal.Note(Description.Id, JournalKinds.Proposal, System.Text.Json.JsonSerializer.Serialize(proposal.ToReply(), ApiJson.Options));
        }

        foreach (var (act, input, chain) in ChainMemory.Read(_earlier, Description.Id, Description.Inputs))
            _assistant.Acts.Carry(act, input, chain);
        // What the lists of this start say comes after what earlier runs were told.
        foreach (var (act, chains) in acts)
        {
            _assistant.Acts.Add(act);
            foreach (var (input, chain) in chains)
                _assistant.Acts.Carry(act.Name, input, chain);
        }

        foreach (var act in ListMemory.Read(_earlier, Description.Id, Description.Inputs, Now().Utc).Where(act => _assistant.Acts.Find(act.Name) is null))
            _assistant.Acts.Add(act);
        GoOn(acts);
        _pulse.Beat();
        _loop.Start();
        _started = true;
    }

    // A service that fell goes on where it was: with the act that was on, or with none where it had gone off.
    private void GoOn(IReadOnlyList<ListedAct> acts)
    {
        var left = ActMemory.Read(_earlier, Description.Id, Now().Utc);
        var known = left is { IsMeant: true } ? _assistant.Acts.Find(left.Act) : null;
        if (left is { IsOn: true } && known is null)
            _journal.Note(Description.Id, JournalKinds.ActEnded, System.Text.Json.JsonSerializer.Serialize(new ActEndedBody(left.Act, Now().Utc), ActsJson.Default.ActEndedBody));
        if (known is not null)
            LogActLeft(Description.Id, known.Name, left!.IsOn ? "is on: it was when the service ended" : "had ended when the service did: none is on");
        if (known is not null ? left!.IsOn : acts.Count > 0)
            _assistant.BeginAct(known ?? acts[0].Act, Now());
    }

    /// <summary>Asks the assistant something, on the desk's loop.</summary>
    public Task<T> AskAsync<T>(Func<DeskAssistant, T> ask) => _loop.RunAsync(() => Task.FromResult(ask(_assistant)));

    /// <summary>Proposes the trims of an act's last show; each proposal is confirmed like any other. <see langword="null"/> where there is no such act.</summary>
    internal Task<RecalledAct?> RecallAsync(string act, ShowMemory shows) => AskAsync(assistant => assistant.Acts.Find(act) is not { } found ? null : new RecalledAct(found,
    [
        .. assistant.RecallTrims(found, shows.LastShow(Description.Id, found.Name)).Select(one => new Recalled(one, one.Plan is { } plan ? assistant.Propose(plan, Now()) : null)),
    ]));

    /// <summary>Takes an act into the running order. Its list is written down first: what is answered as taken is there after a restart on the same day.</summary>
    internal Task<ListFate> TakeInAsync(Act act) => _loop.RunAsync(async () =>
    {
        if (!_assistant.Acts.HasRoomFor(act))
            return ListFate.NoRoom;
        if (!await _journal.ListTakenAsync(Description.Id, System.Text.Json.JsonSerializer.Serialize(new ListBody(act), ActsJson.Default.ListBody)))
            return ListFate.NotWritten;
        return _assistant.Acts.Add(act) ? ListFate.Taken : ListFate.NoRoom;
    });

    /// <summary>Asks for the levels' history, on the desk's loop.</summary>
    public Task<T> HistoryAsync<T>(Func<LevelHistory, T> ask) => _loop.RunAsync(() => Task.FromResult(ask(_history)));

    /// <summary>Turns the show watch on or off.</summary>
    public Task WatchAsync(bool on) => _loop.RunAsync(() =>
    {
        _assistant.Watch(on, Now());
        PublishDesk();
        return Task.FromResult(on);
    });

    /// <summary>Brings a confirmation before the gate. In a replay there is none: a recorded desk is never live.</summary>
    public Task<GateAnswer> ConfirmAsync(Confirmation confirmation) => _loop.RunAsync(() => _keeper?.ConfirmAsync(confirmation)
        ?? Task.FromResult(_assistant.Book.Find(confirmation.Id) is { } shown ? new GateAnswer(GateCode.DeskNotLive, shown) : new(GateCode.NotFound, null)));

    /// <summary>The desk and its link.</summary>
    public Task<DeskReply> DescribeAsync() => _loop.RunAsync(() => Task.FromResult(Describe()));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        // The host stops it and the container disposes of it: whoever comes second finds nothing to do.
        if (_stopping.IsCancellationRequested)
            return;
        if (_started)
            await AskAsync(assistant => assistant.Leave(Now()));
        await _stopping.CancelAsync();
        await _loop.DisposeAsync();
        _pulse.Rest();
        _stopping.Dispose();
    }

    void IDeskSink.OnReading(in MeterReading reading)
    {
        if (_meters.BeginsNewFrame(reading))
            PublishMeters();
        var now = Now();
        _meters.Keep(reading, now.Elapsed);
        _history.Keep(reading, now.Elapsed.TotalSeconds);
        _assistant.OnReading(reading, now);
    }

    void IDeskSink.OnOverload(int input, double timeS) => _assistant.OnOverload(input, timeS, Now());

    void IDeskSink.OnSettings(InputSettings before, InputSettings now)
    {
        var moment = Now();
        _history.Keep(before, now, moment.Elapsed.TotalSeconds);
        _assistant.OnSettings(before, now, moment);
    }

    void IDeskSink.OnLink(LinkState state, Saying reason)
    {
        _assistant.OnLink(state, reason, Now());
        PublishDesk();
        LogLink(Description.Id, state, reason);
    }

    void IDeskSink.OnDeskNote(DeskNote note)
    {
        if (note.Kind is DeskNoteKind.SceneRecall or DeskNoteKind.Takeover)
            _assistant.OnDeskReplaced(note.Text, Now());
        LogNote(Description.Id, note.Text);
    }

    private void Turn()
    {
        _pulse.Beat();
        var now = Now();
        if (_meters.IsDue(now.Elapsed))
            PublishMeters();
        if (now.Elapsed - _lastTick < TickEvery)
            return;
        _lastTick = now.Elapsed;
        _assistant.Tick(now);
        var trouble = LastDescribed.JournalTrouble;
        LastDescribed = Describe();
        if (!string.Equals(trouble, LastDescribed.JournalTrouble, StringComparison.Ordinal))
            PublishDesk();
        if (now.Elapsed - _lastUnknownRead >= ReadUnknownEvery)
        {
            _lastUnknownRead = now.Elapsed;
            LastAlarmFigures = _assistant.Alarms.Figures;
            _ = _keeper?.ReadUnknownAsync(_session.HeardAgo);
        }

        if (now.Elapsed - _lastMuteRead >= ReadMutesEvery)
        {
            _lastMuteRead = now.Elapsed;
            HoldMutes();
        }
    }

    // Tells each lease that still runs, and has the desk asked again so that the next one can be told.
    private void HoldMutes()
    {
        foreach (var patch in _assistant.Patches.UnderWay)
        {
            if (_assistant.Patches.Lease(patch) is { } lease)
                _hub.PublishPassing("patch", System.Text.Json.JsonSerializer.Serialize(patch.ToReply(lease), ApiJson.Options));
            _ = _session.ReadAsync(patch.Inputs, ProposalKind.Mute, ReadMutesEvery * 2);
        }
    }

    // A desk that used to answer and does not may stand anywhere by now; of one that never did the last word counts, if it was not away since.
    private async Task<bool> ReadAgainAsync(Proposal proposal)
    {
        var answers = _session.AnswersWhenAsked(proposal.Kind);
        var read = await _session.ReadAsync(proposal.Inputs, proposal.Kind, answers && proposal.Kind != ProposalKind.Mute ? ReadAgainWithin : ListenAgainWithin);
        // To mute is the safe direction, and a bang does not wait for an answer.
        return (read != FreshRead.Silent || !answers || proposal.Kind == ProposalKind.Mute) && _session.IsCurrent(proposal.Inputs, proposal.Kind);
    }

    private void PublishMeters()
    {
        if (_meters.Take(_hub.HasClients) is { } json)
            _hub.PublishPassing("meters", json);
    }

    private void PublishDesk()
    {
        var json = System.Text.Json.JsonSerializer.Serialize(Describe(), ApiJson.Options);
        _hub.Publish("desk", json);
        _journal.Note(Description.Id, JournalKinds.Link, json);
    }

    /// <summary>Why the link stands as it does; asked on the desk's own thread.</summary>
    public Saying LinkReason => _session.LinkReason;

    private DeskReply Describe()
    {
        var counters = _session.Counters;
        return new(
            Description.Id, Description.Name, _session.Link, _session.LinkReason, Description.Inputs, ReplyMapping.Level(counters.FrameRate), counters.FramesLost,
            counters.Dropped, counters.Malformed, counters.Unmatched, counters.FramesHeard, _assistant.Watching,
            _loop.Overflowed, _loop.ReceiveBuffer, _journal.Trouble);
    }

    [LoggerMessage(EventId = 2101, Level = LogLevel.Information, Message = "Desk {Desk} is {State}: {Reason}")]
    private partial void LogLink(string desk, LinkState state, string reason);

    [LoggerMessage(EventId = 2103, Level = LogLevel.Information, Message = "Desk {Desk}: the act \"{Act}\" {How}")]
    private partial void LogActLeft(string desk, string act, string how);

    [LoggerMessage(EventId = 2102, Level = LogLevel.Warning, Message = "Desk {Desk}: {Note}")]
    private partial void LogNote(string desk, string note);
}

/// <summary>What a desk's host needs of the service around it.</summary>
/// <param name="Hub">The event stream.</param>
/// <param name="Journal">Where it writes.</param>
/// <param name="Shows">What earlier shows taught.</param>
/// <param name="Earlier">What earlier runs wrote.</param>
/// <param name="Time">The clock.</param>
/// <param name="Pictures">Stamps pictures.</param>
/// <param name="Log">The log.</param>
/// <param name="Tap">Who sees a desk's packets, by its id; answers <see langword="null"/> for nobody.</param>
/// <param name="Replayed">The recorded link of a desk, by its id; answers <see langword="null"/> where the desk is a real one.</param>
/// <param name="Vitals">Where the loop shows that it comes round.</param>
internal sealed record DeskHostServices(
    EventHub Hub, GateJournal Journal, ShowMemory Shows, LineReader Earlier, TimeProvider Time, PictureClock Pictures, ILogger<DeskHost> Log,
    Func<string, IPacketTap?> Tap, Func<string, IDeskSocket?> Replayed, Vitals Vitals);
