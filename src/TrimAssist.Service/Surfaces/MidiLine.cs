using System.Net;
using TrimAssist.Core.Desks;
using TrimAssist.Desk.Midi;
using TrimAssist.Desk.Network;
using TrimAssist.Protocols.Midi;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Surfaces;

/// <summary>The way to a surface that speaks MIDI. A port that is not there yet is looked for again: pads are plugged in when somebody needs them.</summary>
/// <param name="place">Where it is.</param>
/// <param name="time">The clock.</param>
internal sealed class MidiLine(MidiPlace place, TimeProvider time) : ISurfaceLine, IMidiReceiver
{
    private const int MostPiecesATurn = 64;
    private static readonly SurfacePicture Dark = new([.. Enumerable.Repeat(default(SlotPicture), SurfaceOptions.MostSlots)], default, []);
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(2);
    private readonly MidiFace _face = new(place.Keys);
    private readonly MidiParser _parser = new();
    private readonly HashSet<Press> _pressed = [];
    private IMidiPort? _port;
    private long _lookedAt;
    private bool _isSomebodyNew;
    private string? _missing;

    /// <inheritdoc/>
    public string? Trouble => _port is { } port ? port.Trouble : _missing;

    /// <inheritdoc/>
    public void Open()
    {
        // On the network the ports on this side are ours to have or not; what hangs on a cable may come later.
        LookForIt();
        if (_port is null && place.Port is null)
            throw new WorkFailedException(_missing!);
    }

    /// <inheritdoc/>
    public IReadOnlyList<Press> Presses(out bool isSomebodyNew)
    {
        _pressed.Clear();
        _isSomebodyNew = false;
        if (_port is null && time.GetElapsedTime(_lookedAt) >= LookEvery)
            LookForIt();
        _port?.Drain(this, MostPiecesATurn);
        isSomebodyNew = _isSomebodyNew;
        // Two keys at once are an elbow, or a surface that tells how its keys stand.
        return _pressed.Count == 1 ? [.. _pressed] : [];
    }

    /// <inheritdoc/>
    public bool TryShow(SurfacePicture picture, LinkState link, string answer) => _port is { } port && port.TrySend(_face.Write(picture), out _);

    /// <inheritdoc/>
    public void Dispose()
    {
        _port?.TrySend(_face.Write(Dark), out _);
        _port?.Dispose();
        _port = null;
    }

    void IMidiReceiver.Connected(bool again)
    {
        _parser.Reset();
        _face.Forget();
        _pressed.Clear();
        _isSomebodyNew = true;
    }

    void IMidiReceiver.Receive(ReadOnlySpan<byte> bytes, long timestamp)
    {
        while (_parser.TryRead(ref bytes, out var message, out _))
        {
            if (_face.Read(message) is { } press)
                _pressed.Add(press);
        }
    }

    // What was pressed back then is no press now; what is held since then is held.
    void IMidiReceiver.Restored(ReadOnlySpan<byte> messages)
    {
        while (_parser.TryRead(ref messages, out var message, out _))
            _face.Read(message);
    }

    void IMidiReceiver.Lost(int packets) => _parser.Reset();

    private void LookForIt()
    {
        _lookedAt = time.GetTimestamp();
        try
        {
            (_port, _missing) = (Opened(), null);
        }
        catch (DeskConnectException refused)
        {
            _missing = refused.Message;
        }
    }

    private IMidiPort Opened() => place switch
    {
        { Port: { } name } => MidiPorts.OpenSystem(name, time),
        { Partner: { } partner } => MidiPorts.Invite(partner, place.Listen, new SourceFilter(place.AcceptFrom), time),
        _ => MidiPorts.Await(place.Listen ?? new IPEndPoint(IPAddress.Loopback, 0), new SourceFilter(place.AcceptFrom), time),
    };
}
