using System.Net;
using System.Security.Cryptography;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Network;
using TrimAssist.Protocols.Midi.Rtp.Session;

namespace TrimAssist.Desk.Midi;

/// <summary>
/// A MIDI port on the network: RTP-MIDI (RFC 6295) in a session of the kind commonly used with it. Invites whoever it was told to until
/// somebody answers, and accepts invitations from those who are let in.
/// </summary>
internal sealed class RtpMidiPort : IMidiPort, ISessionWire, ISessionListener
{
    private const string OwnName = "TrimAssist";
    private readonly IPEndPoint? _invited;
    private readonly SourceFilter _sources;
    private readonly TimeProvider _time;
    private readonly long _began;
    private readonly SessionSockets _sockets;
    private readonly RtpMidiSession _session;
    private IMidiReceiver? _receiver;
    private SocketAddress? _from;
    private bool _wasOpen;
    private long _refused;
    private string? _fault;

    /// <summary>Opens the sockets; invitations leave with <see cref="Drain"/>.</summary>
    /// <param name="invited">The lower port of whoever is invited; <see langword="null"/> to wait for an invitation.</param>
    /// <param name="listen">The lower port on this side; <see langword="null"/> for any.</param>
    /// <param name="sources">Who may speak.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="DeskConnectException">The ports cannot be had.</exception>
    public RtpMidiPort(IPEndPoint? invited, IPEndPoint? listen, SourceFilter sources, TimeProvider time)
    {
        (_invited, _sources, _time, _began) = (invited, sources, time, time.GetTimestamp());
        _sockets = new SessionSockets(invited, listen);
        _session = new RtpMidiSession(Chance(), Chance(), OwnName, invites: invited is not null, this, this);
        Name = invited is null ? $"rtp: on port {LocalEndPoint.Port}" : $"rtp:{invited}";
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>The lower port on this side.</summary>
    public IPEndPoint LocalEndPoint => _sockets.LocalEndPoint;

    /// <inheritdoc/>
    public Saying? Trouble =>
        _session.IsOpen ? null
        : _invited is not { } invited ? MidiSayings.MidiNobody
        : _session.WasRefused ? MidiSayings.MidiRefused($"{invited}")
        : MidiSayings.MidiNoAnswer($"{invited}");

    private double Now => _time.GetElapsedTime(_began).TotalSeconds;

    /// <inheritdoc/>
    public void Wait(TimeSpan wait) => _sockets.Wait(wait);

    /// <inheritdoc/>
    public void Drain(IMidiReceiver receiver, int most)
    {
        _receiver = receiver;
        _session.Tick(Now);
        for (var left = most; left > 0 && _sockets.TryReceive(out var path, out var packet, out var from); left--)
        {
            if (!_sources.Admits(from))
                receiver.Dropped(from);
            else
                Take(path, packet, from);
        }
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> messages, out string? fault)
    {
        fault = Trouble;
        if (fault is not null)
            return false;
        _fault = null;
        var sent = _session.TrySend(messages, Now);
        fault = sent ? _fault : "Too long for one packet.";
        return sent && fault is null;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _session.End();
        _sockets.Dispose();
    }

    void ISessionWire.Send(SessionPath path, ReadOnlySpan<byte> packet)
    {
        _sockets.TrySend(path, packet, out var fault);
        _fault ??= fault;
    }

    void ISessionWire.Answer(SessionPath path, ReadOnlySpan<byte> packet) => _sockets.TrySend(path, packet, _from!, out _);

    void ISessionWire.Remember(SessionPath path) => _sockets.Remember(path, _from!);

    void ISessionWire.Adopt() => _sockets.Adopt();

    void ISessionWire.Return() => _sockets.Return();

    void ISessionListener.OnOpened()
    {
        _refused = 0;
        _receiver!.Connected(_wasOpen);
        _wasOpen = true;
    }

    void ISessionListener.OnMessage(ReadOnlySpan<byte> message) => _receiver!.Receive(message, _time.GetTimestamp());

    void ISessionListener.OnRestored(ReadOnlySpan<byte> message) => _receiver!.Restored(message);

    void ISessionListener.OnLost(int packets) => _receiver!.Lost(packets);

    private void Take(SessionPath path, ReadOnlySpan<byte> packet, SocketAddress from)
    {
        _from = from;
        if (!_session.Take(path, packet, Now))
        {
            _receiver!.Unreadable(1, "no packet of this MIDI session");
            return;
        }

        var refused = _session.Inbox.Refused;
        if (refused == _refused)
            return;
        _receiver!.Unreadable((int)(refused - _refused), $"no RTP-MIDI ({_session.Inbox.LastError})");
        _refused = refused;
    }

    private static uint Chance() => BitConverter.ToUInt32(RandomNumberGenerator.GetBytes(sizeof(uint)));
}
