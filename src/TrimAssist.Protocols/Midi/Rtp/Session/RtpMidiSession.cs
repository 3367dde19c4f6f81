namespace TrimAssist.Protocols.Midi.Rtp.Session;

/// <summary>
/// One side of an RTP-MIDI session with one partner: invites, accepts, measures the clocks, ends, and carries MIDI both ways. No I/O and
/// no clock of its own; whoever owns it gives it every packet and calls <see cref="Tick"/> a few times a second. Sends no recovery
/// journal: what is lost on the way out is never made good later.
/// </summary>
/// <param name="source">This side's SSRC.</param>
/// <param name="token">The number of this side's invitations.</param>
/// <param name="name">This side's name, shown at the other.</param>
/// <param name="invites">Whether to invite; otherwise the session waits to be invited.</param>
/// <param name="wire">Carries packets.</param>
/// <param name="listener">Hears what comes.</param>
public sealed class RtpMidiSession(uint source, uint token, string name, bool invites, ISessionWire wire, ISessionListener listener)
{
    /// <summary>The payload type that sessions of this kind use (96 to 127 are free to be agreed, RFC 3551).</summary>
    public const byte PayloadType = 97;

    /// <summary>An invitation is sent again after this long, in seconds.</summary>
    public const double InviteEveryS = 1;

    /// <summary>The clocks are measured this often while all is well, in seconds.</summary>
    public const double ClockEveryS = 10;

    /// <summary>Having heard nothing for this long the clock is asked as a question whether anybody is there, in seconds.</summary>
    public const double DoubtAfterS = 2;

    /// <summary>An inviting side that hears nothing for this long ends the session and invites again, in seconds.</summary>
    public const double SilentAfterS = 5;

    /// <summary>An invited side gives up after this long without a word, as is common practice, in seconds.</summary>
    public const double GoneAfterS = 60;

    private const double FeedbackEveryS = 1;
    private const double TicksPerS = 10_000;
    private const int FirstClocks = 3;
    private readonly byte[] _packet = new byte[RtpHeader.Size + 2 + RtpMidiWriter.MaxListLength];
    private readonly MidiParser _splitter = new(RtpMidiWriter.MaxListLength);
    private RtpMidiInbox _inbox = new(listener);
    private State _state = State.Apart;
    private uint _partner;
    private (uint Source, uint Token, double At) _offer = (0, 0, double.NegativeInfinity);
    private bool _isInviter;
    private double _openedAt;
    private ushort _sequence = (ushort)source;
    private ushort _acknowledged;
    private double _sentAt = double.NegativeInfinity;
    private double _heardAt;
    private double _feedbackAt;
    private int _clocks;

    private enum State
    {
        /// <summary>No session, nothing under way.</summary>
        Apart,

        /// <summary>Invited over the control port.</summary>
        Invited,

        /// <summary>Accepted there; invited over the data port.</summary>
        InvitedData,

        /// <summary>MIDI may go.</summary>
        Open,
    }

    /// <summary>Whether MIDI may go.</summary>
    public bool IsOpen => _state == State.Open;

    /// <summary>Whether the other side refused the last invitation.</summary>
    public bool WasRefused { get; private set; }

    /// <summary>The receiving side of the present session, or of the last.</summary>
    public RtpMidiInbox Inbox => _inbox;

    /// <summary>Does what is due.</summary>
    /// <param name="now">The time in seconds, on a clock that never goes back.</param>
    public void Tick(double now)
    {
        switch (_state)
        {
            case State.Apart when invites && now - _sentAt >= InviteEveryS:
                Invite(now);
                break;
            case State.Invited or State.InvitedData when now - _sentAt >= InviteEveryS:
                // From the beginning: the other side may have forgotten the first half.
                Invite(now);
                break;
            case State.Open:
                TickOpen(now);
                break;
        }
    }

    /// <summary>Takes in a datagram from anybody who is let in.</summary>
    /// <param name="path">The port it came in on.</param>
    /// <param name="packet">The datagram.</param>
    /// <param name="now">The time in seconds.</param>
    /// <returns><see langword="false"/> for what is no packet of a session, or of another one.</returns>
    public bool Take(SessionPath path, ReadOnlySpan<byte> packet, double now)
    {
        if (SessionPacket.Is(packet))
            return SessionPacket.TryRead(packet, out var word) && Take(path, word, now);
        if (_state != State.Open || path != SessionPath.Data || RtpHeader.Read(packet, out var header, out var payload) != RtpMidiError.None || header.Source != _partner)
            return false;
        _heardAt = now;
        _inbox.Take(header, payload);
        return true;
    }

    /// <summary>Sends whole messages, each with its own status, in one packet.</summary>
    /// <returns><see langword="false"/> where there is no session, or the bytes are no whole messages or too many.</returns>
    public bool TrySend(ReadOnlySpan<byte> messages, double now)
    {
        if (_state != State.Open)
            return false;
        _splitter.Reset();
        var writer = new RtpMidiWriter(_packet);
        var rest = messages;
        var whole = 0;
        while (_splitter.TryRead(ref rest, out var message, out var exclusive))
        {
            if (!(exclusive.IsEmpty ? writer.TryWrite(0, message) : writer.TryWriteExclusive(0, exclusive)))
                return false;
            whole += exclusive.IsEmpty ? message.Length : exclusive.Length;
        }

        // Where every byte belongs to a message with its own status, the lengths agree.
        if (whole == 0 || whole != messages.Length || !writer.TryFinish(new(Marker: true, PayloadType, ++_sequence, (uint)Ticks(now), source), out var size))
            return false;
        wire.Send(SessionPath.Data, _packet.AsSpan(0, size));
        return true;
    }

    /// <summary>Ends the session, and says so.</summary>
    public void End()
    {
        if (_state is State.Open or State.InvitedData)
            Say(SessionPath.Control, new(SessionCommand.End, source, _isInviter ? token : _offer.Token));
        _state = State.Apart;
    }

    private void Invite(double now)
    {
        (_state, _sentAt) = (State.Invited, now);
        wire.Return();
        Say(SessionPath.Control, new(SessionCommand.Invitation, source, token));
    }

    private bool Take(SessionPath path, SessionPacket word, double now)
    {
        switch (word.Command)
        {
            case SessionCommand.Invitation:
                return TakeInvitation(path, word, now);
            case SessionCommand.Accepted when word.Token == token:
                return TakeAcceptance(path, word, now);
            case SessionCommand.Refused when word.Token == token && _state is State.Invited or State.InvitedData:
                (_state, WasRefused, _sentAt) = (State.Apart, true, now);
                return true;
            case SessionCommand.End when word.Source == _partner && _state is State.Open or State.InvitedData:
                (_state, _sentAt) = (State.Apart, now);
                return true;
            case SessionCommand.Clock when word.Source == _partner && _state == State.Open:
                TakeClock(word, now);
                return true;
            case SessionCommand.Feedback:
                // Without a journal nothing waits for it.
                return word.Source == _partner;
            default:
                return false;
        }
    }

    private bool TakeInvitation(SessionPath path, SessionPacket word, double now)
    {
        // Another one than the partner has to wait until this session is over; the partner itself begins anew.
        if (_state == State.Open && word.Source != _partner && now - _heardAt < SilentAfterS)
        {
            Reply(path, new(SessionCommand.Refused, source, word.Token));
            return true;
        }

        if (path == SessionPath.Control)
            _offer = (word.Source, word.Token, now);
        else if (word.Source != _offer.Source || word.Token != _offer.Token || now - _offer.At > SilentAfterS)
            return false;
        wire.Remember(path);
        Reply(path, new(SessionCommand.Accepted, source, word.Token));

        // Where both invite at once, the session that came first is the session.
        var isSecond = _state == State.Open && word.Source == _partner && _isInviter && now - _openedAt < InviteEveryS;
        if (path == SessionPath.Data && !isSecond)
        {
            wire.Adopt();
            Open(word.Source, isInviter: false, now);
        }

        return true;
    }

    private bool TakeAcceptance(SessionPath path, SessionPacket word, double now)
    {
        if (path == SessionPath.Control && _state == State.Invited)
        {
            (_state, _partner, _sentAt) = (State.InvitedData, word.Source, now);
            Say(SessionPath.Data, new(SessionCommand.Invitation, source, token));
            return true;
        }

        if (path != SessionPath.Data || _state != State.InvitedData || word.Source != _partner)
            return false;
        Open(word.Source, isInviter: true, now);
        AskClock(now);
        return true;
    }

    private void Open(uint partner, bool isInviter, double now)
    {
        (_state, _partner, _isInviter, WasRefused) = (State.Open, partner, isInviter, false);
        (_openedAt, _heardAt, _feedbackAt, _clocks) = (now, now, now, 0);
        (_inbox, _acknowledged) = (new RtpMidiInbox(listener), 0);
        listener.OnOpened();
    }

    // CK 0 from the inviting side, CK 1 back, CK 2: both then know the other's clock to within half the way there and back.
    private void TakeClock(SessionPacket word, double now)
    {
        _heardAt = now;
        if (word.Count == 0)
            Say(SessionPath.Data, word with { Source = source, Count = 1, Second = Ticks(now) });
        else if (word.Count == 1)
            Say(SessionPath.Data, word with { Source = source, Count = 2, Third = Ticks(now) });
    }

    private void TickOpen(double now)
    {
        var silentS = now - _heardAt;
        if (silentS >= (_isInviter ? SilentAfterS : GoneAfterS))
        {
            End();
            return;
        }

        // A few measurements at the start, then seldom; soon again where nothing is heard.
        var every = _clocks < FirstClocks || silentS >= DoubtAfterS ? InviteEveryS : ClockEveryS;
        if (_isInviter && now - _sentAt >= every)
            AskClock(now);
        if (now - _feedbackAt < FeedbackEveryS || _inbox.Packets == 0 || _inbox.Last == _acknowledged)
            return;
        (_feedbackAt, _acknowledged) = (now, _inbox.Last);
        Say(SessionPath.Control, new(SessionCommand.Feedback, source, SequenceNumber: _inbox.Last));
    }

    private void AskClock(double now)
    {
        (_sentAt, _clocks) = (now, _clocks + 1);
        Say(SessionPath.Data, new(SessionCommand.Clock, source, First: Ticks(now)));
    }

    private void Say(SessionPath path, SessionPacket packet)
    {
        Span<byte> bytes = stackalloc byte[SessionPacket.MaxSize];
        wire.Send(path, bytes[..packet.Write(bytes, name)]);
    }

    private void Reply(SessionPath path, SessionPacket packet)
    {
        Span<byte> bytes = stackalloc byte[SessionPacket.MaxSize];
        wire.Answer(path, bytes[..packet.Write(bytes, name)]);
    }

    private static ulong Ticks(double now) => (ulong)(now * TicksPerS);
}
