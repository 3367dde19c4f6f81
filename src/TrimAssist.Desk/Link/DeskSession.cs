using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link.Metering;
using TrimAssist.Desk.Link.Settings;
using TrimAssist.Desk.Link.Tongues;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Link.Writing;
using TrimAssist.Desk.Network;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Link;

/// <summary>
/// One desk's conversation: meters and values in, subscriptions and queries out. Single-threaded, no I/O of its own; whoever
/// owns it calls <see cref="Receive"/> for each packet and <see cref="Tick"/> at least every 20 ms.
/// </summary>
public sealed class DeskSession : IPacketSink, IMeterTarget, ISettingsListener, ITongueHost
{
    private const double TickEveryS = 0.002;

    private readonly DeskProfile _profile;
    private readonly IDeskSink _sink;
    private readonly IDeskTransport _transport;
    private readonly SourceFilter _sources;
    private readonly TimeProvider _time;
    private readonly IPacketTap? _tap;
    private readonly long _began;
    private readonly MeterSource[] _meters;
    private readonly MeterHub _hub;
    private readonly SocketIndex _sockets;
    private readonly SettingsBook _book;
    private readonly IDeskTongue _tongue;
    private readonly AskBook _asks;
    private readonly RecallWatch _recalls = new();
    private readonly LinkWatch _link;
    private readonly SubscriptionKeeper _subscriptions;
    private readonly FreshReads _reads;
    private readonly EngineWatch _engines;
    private readonly MeterSource _pace;
    private readonly FrameRate _rate;
    private readonly PacketCount _packets;
    private readonly Action<ControlKind, int> _ask;
    private double _now;
    private double _tickedAt;
    private bool _isFresh;
    private double _backSince = double.NegativeInfinity;
    private double _speaksSince = double.NegativeInfinity;

    /// <summary>Prepares a session; nothing is sent before <see cref="Start"/>.</summary>
    /// <param name="profile">The desk's profile.</param>
    /// <param name="sink">Hears what is found out.</param>
    /// <param name="transport">Carries packets to the desk.</param>
    /// <param name="sources">Who may speak to this session.</param>
    /// <param name="time">The clock.</param>
    /// <param name="tap">Sees every packet; <see langword="null"/> for nobody.</param>
    public DeskSession(
        DeskProfile profile, IDeskSink sink, IDeskTransport transport, SourceFilter sources, TimeProvider time, IPacketTap? tap = null)
    {
        (_profile, _sink, _transport, _sources, _time, _tap) = (profile, sink, transport, sources, time, tap);
        _began = time.GetTimestamp();
        _packets = new PacketCount(sink);
        _sockets = new SocketIndex(profile.Inputs);
        _meters = [.. profile.Meters.Concat(profile.Overloads).Select(meter => new MeterSource(meter, profile.Inputs, _sockets, this))];
        _hub = new MeterHub(profile, this);
        _book = new SettingsBook(profile, _sockets, this);
        _tongue = profile.Connection.Transport == DeskTransportKind.Midi
            ? new MidiTongue(profile, _meters, _book, this)
            : new OscTongue(profile, _sockets, _meters, _book, this);
        _asks = new AskBook(profile);
        _link = new LinkWatch(profile.Meters.Min(meter => meter.Traits.FrameS));
        _subscriptions = new SubscriptionKeeper(profile, _tongue, Send);
        _reads = new FreshReads(Ask);
        _ask = (kind, input) => Ask(kind, input);
        Words = new AwaitedWords(Ask);
        _engines = new EngineWatch(_link.StaleAfterS, LinkWatch.LostAfterS, transport.Engines);
        _pace = LevelMeters.MinBy(meter => meter.FrameS)!;
        _rate = new FrameRate(_pace.FrameS);
    }

    /// <summary>The desk, as the domain may know it.</summary>
    public DeskDescription Description => _profile.Description;

    /// <summary>How the link stands.</summary>
    public LinkState Link => _link.State;

    /// <summary>Why it stands so, in one sentence.</summary>
    public Saying LinkReason => _link.Reason;

    /// <summary>What has been counted.</summary>
    public LinkCounters Counters => new(
        _packets.Received, _packets.Dropped, _packets.Malformed, _packets.Unmatched, _packets.Repeated, LevelMeters.Max(meter => meter.Frames), LevelMeters.Max(meter => meter.Lost), _rate.PerSecond);

    bool IPacketSink.MissesMeters => Link is LinkState.Connecting or LinkState.Lost;

    internal DeskProfile Profile => _profile;

    // Overload flags may come only when they change: their gaps are no loss.
    private IEnumerable<MeterSource> LevelMeters => _meters.Take(_profile.Meters.Count);

    /// <summary>The changes under way.</summary>
    internal AwaitedWords Words { get; }

    /// <summary>What the desk last said about an input.</summary>
    public InputSettings Settings(int input) => _book.Of(input);

    /// <summary>How long ago the desk told the value of a control, asked or unasked; <see langword="null"/> where it never did.</summary>
    public TimeSpan? HeardAgo(int input, ProposalKind kind) =>
        _book.HeardAt(ControlKinds.Of(kind), input) is var at && double.IsNaN(at) ? null : TimeSpan.FromSeconds(Math.Max(0, Elapsed() - at));

    /// <summary>Subscribes, and asks for every value.</summary>
    public void Start()
    {
        _now = Elapsed();
        _asks.AskAll(_now);
        Tick();
    }

    /// <inheritdoc/>
    public void Receive(ReadOnlySpan<byte> packet, SocketAddress from, bool sameMoment = false)
    {
        if (!_sources.Admits(from))
        {
            _packets.Drop(from, Elapsed());
            return;
        }

        if (!sameMoment)
            (_now, _isFresh) = (Elapsed(), true);
        var sender = SourceFilter.AddressOf(from);
        // Another engine of the same desk is let in, and does not speak for it now.
        if (_engines.IsAside(sender, _now))
            return;

        _packets.Received++;
        _tap?.Received(packet, sender, _now);
        _link.Packet(_now);
        _tongue.Receive(packet, sender, _now);
    }

    /// <inheritdoc/>
    public void Connected(bool again)
    {
        _now = Elapsed();
        _tongue.Begin();
        _subscriptions.Again();
        _asks.AskAll(_now);
        if (!again)
            return;
        (_backSince, _speaksSince) = (_now, _now);
        _sink.OnDeskNote(new DeskNote(DeskNoteKind.Restart, "The connection was lost and is back: every value is asked again."));
    }

    /// <inheritdoc/>
    public void Gap(int packets) => _tongue.Skip();

    /// <inheritdoc/>
    public void CountUnreadable(int count, string reason)
    {
        _now = Elapsed();
        _packets.Misread(count, reason, _now);
    }

    /// <summary>Ends every wait: nobody will answer any more.</summary>
    public void End()
    {
        _reads.EndAll();
        Words.WakeAll();
    }

    /// <summary>
    /// Ends a turn of the loop with a <see cref="Tick"/> where one is due: whenever nothing was heard in this turn, else every two
    /// milliseconds, since on a lively link each datagram makes a turn of its own.
    /// </summary>
    internal void TickWhenDue()
    {
        var isFresh = _isFresh;
        _isFresh = false;
        if (!isFresh || _link.State != LinkState.Live || _now - _tickedAt >= TickEveryS)
            Tick();
    }

    /// <summary>Lets time pass: renewals, questions, waits, the state of the link.</summary>
    public void Tick()
    {
        _tickedAt = _now = Elapsed();
        _tongue.Tick(_now);
        _hub.Tick(_now);
        if (_rate.IsDue(_now) && _rate.Look(_now, _pace.Frames))
            _sink.OnDeskNote(new DeskNote(DeskNoteKind.MeterRate, $"Meters come {_rate.PerSecond:0.#} times a second, but frame_ms says {1 / _pace.FrameS:0.#}."));
        var before = _link.State;
        if (_link.Tick(_now, _transport.Trouble))
        {
            if (_link.State == LinkState.Live && before != LinkState.Connecting)
                ComeBack(before);
            _sink.OnLink(_link.State, _link.Reason);
        }

        if (_engines.TryTurn(_now))
        {
            Redirect();
            _subscriptions.Again();
        }

        if (_transport.Trouble is null)
        {
            _subscriptions.Tick(_now, _link.State == LinkState.Live);
            _asks.Tick(_now, _link.State == LinkState.Live, _ask);
        }

        _reads.Tick(_now);
        Words.Tick(_now);
    }

    /// <summary>
    /// Has the desk asked once more for a control of some inputs (and for what else a change of it rests on: the socket that feeds them,
    /// the pair that they are in), with repeats, and waits.
    /// </summary>
    public Task<FreshRead> ReadAsync(IReadOnlyList<int> inputs, ProposalKind kind, TimeSpan timeout)
    {
        _now = Elapsed();
        var controls = ControlKinds.RestsOn(_profile, kind);
        return _reads.ReadAsync(inputs.SelectMany(input => controls.Select(control => (control, input))), _now, timeout.TotalSeconds);
    }

    /// <summary>Whether the desk has shown that it answers when it is asked for this kind of control, so that silence means something.</summary>
    public bool AnswersWhenAsked(ProposalKind kind) => _asks.AnswersWhenAsked(ControlKinds.Of(kind));

    /// <summary>
    /// Whether the desk has told a control of these inputs since it was last away: what it said before may be another desk's. What can be
    /// asked for is asked for when it is back; what cannot may have been told only while its meters were still to come.
    /// </summary>
    public bool IsCurrent(IReadOnlyList<int> inputs, ProposalKind kind)
    {
        var control = ControlKinds.Of(kind);
        var since = _profile.Control(control) is { CanBeAsked: true } ? _backSince : _speaksSince;
        return inputs.All(input => _book.HeardAt(control, input) >= since);
    }

    void IMeterTarget.Take(MeterQuantity quantity, int input, float level, double timeS)
    {
        if (quantity == MeterQuantity.Overload)
        {
            if (level > 0)
                _sink.OnOverload(input, timeS);
            return;
        }

        _link.Frame(_now);
        _hub.Take(quantity, input, level, timeS, _now);
    }

    void IMeterTarget.Repeated() => _packets.Repeated++;

    bool ITongueHost.AdmitsMeters(ReadOnlySpan<byte> sender)
    {
        if (!_engines.Admits(sender, _now, out var takesOver))
            return false;
        if (takesOver)
            TakeOver(sender);
        return true;
    }

    void ITongueHost.OnMalformed(int count, string reason) => _packets.Misread(count, reason, _now);

    void ITongueHost.OnUnmatched() => _packets.Unmatched++;

    void ITongueHost.OnBadClock() => _sink.OnDeskNote(new DeskNote(DeskNoteKind.TimeTags, "The desk's clock jumps: its time tags are ignored."));

    void IMeterTarget.Give(in MeterReading reading) => _sink.OnReading(reading);

    void ISettingsListener.OnHeard(ControlKind kind, int input, double now)
    {
        _asks.Heard(kind, input, now);
        _reads.Heard(kind, input);
        Words.Heard(kind, input);
    }

    void ISettingsListener.OnChanged(ControlKind kind, InputSettings before, InputSettings after, bool wasKnown, double now)
    {
        if (!string.Equals(before.Socket, after.Socket, StringComparison.Ordinal))
            _asks.AskInput(after.Input, now);
        if (wasKnown && !Words.IsUnderWay(kind, after.Input) && _recalls.Changed(kind, after.Input, now))
            _sink.OnDeskNote(new DeskNote(DeskNoteKind.SceneRecall, ReplacedSayings.ReplacedScene));
        _sink.OnSettings(before, after);
    }

    internal double Elapsed() => _time.GetElapsedTime(_began).TotalSeconds;

    internal SettingValue? Value(ControlKind kind, int input) => _book.Value(kind, input);

    /// <summary>The packet of a change; <see langword="null"/> where the desk's form cannot express the value.</summary>
    internal byte[]? Change(ControlProfile control, int input, WireValue value) => _tongue.Change(control, input, value);

    /// <summary>Only <see cref="DeskWriter"/> sends what carries a value.</summary>
    internal bool SendChange(byte[] packet) => TrySend(packet);

    // Another engine may stand elsewhere: nothing the first one said is known of it.
    private void TakeOver(ReadOnlySpan<byte> sender)
    {
        Redirect();
        _book.Forget(_now);
        _subscriptions.Again();
        _asks.AskAll(_now);
        _sink.OnDeskNote(new DeskNote(DeskNoteKind.Takeover, ReplacedSayings.ReplacedEngine(new IPAddress(sender).ToString())));
    }

    private void Redirect()
    {
        if (_engines.Target is { } engine)
            _transport.Redirect(engine);
    }

    // A desk that was away may be another desk now: everything is asked again, and what moved shows by itself.
    private void ComeBack(LinkState from)
    {
        if (from == LinkState.Lost)
            (_backSince, _speaksSince) = (_now, Math.Max(_speaksSince, _link.SpeaksSince));
        _asks.AskAll(_now);
        if (from == LinkState.Lost)
            _sink.OnDeskNote(new DeskNote(DeskNoteKind.Restart, "The desk was away and is back: every value is asked again."));
    }

    private bool Ask(ControlKind kind, int input)
    {
        if (_profile.Control(kind) is not { } control || _tongue.Question(control, input) is not { } packet)
            return false;
        Send(packet);
        return true;
    }

    private void Send(byte[] packet) => TrySend(packet);

    private bool TrySend(byte[] packet)
    {
        if (_transport.TrySend(packet, out var fault))
        {
            _tap?.Sent(packet, Elapsed());
            return true;
        }

        _packets.Unsent(fault, _now);
        return false;
    }
}
