using System.Text;

namespace TrimAssist.Desk.Midi;

/// <summary>One direction of a MIDI port of this machine.</summary>
internal sealed unsafe class SystemMidiDevice : IDisposable
{
    private const int LongestName = 256;
    private const string Client = "trimassist";

    // Messages that may wait in the library: two seconds of 64 meters at 20 frames a second, rounded up.
    private const int Queue = 4096;
    private readonly bool _isInput;
    private RtMidi.Handle* _handle;

    /// <summary>Prepares the direction; nothing is open before <see cref="TryOpen"/>.</summary>
    public SystemMidiDevice(bool isInput)
    {
        _isInput = isInput;
        // The system's own sequencer first; where it has no port in this direction, whatever a JACK server has.
        foreach (var api in new[] { RtMidi.Api.Alsa, RtMidi.Api.Jack })
        {
            Dispose();
            _handle = isInput ? RtMidi.InCreate(api, Client, Queue) : RtMidi.OutCreate(api, Client);
            if (Ok && RtMidi.PortCount(_handle) > 0)
                break;
        }

        if (_isInput && Ok)
            RtMidi.InIgnore(_handle, exclusive: false, time: true, sensing: true);
    }

    /// <summary>What went wrong last.</summary>
    public string Fault => _handle is null ? "closed" : _handle->Fault;

    private bool Ok => _handle is not null && _handle->Ok;

    /// <summary>The names of the ports in this direction, in the system's order.</summary>
    public IReadOnlyList<string> Names()
    {
        if (!Ok)
            return [];
        var names = new string[RtMidi.PortCount(_handle)];
        for (var port = 0u; port < names.Length; port++)
            names[port] = Name(port);
        return names;
    }

    /// <summary>Opens the port of that number.</summary>
    public bool TryOpen(int port)
    {
        RtMidi.OpenPort(_handle, (uint)port, _isInput ? "in" : "out");
        return Ok;
    }

    /// <summary>The next message that came in; <see langword="false"/> where none waits.</summary>
    public bool TryReceive(Span<byte> room, out int length)
    {
        length = 0;
        if (_handle is null)
            return false;
        var size = (nuint)room.Length;
        fixed (byte* bytes = room)
            RtMidi.InGetMessage(_handle, bytes, &size);
        // One that is longer than the room is gone.
        length = Ok && size <= (nuint)room.Length ? (int)size : 0;
        return length > 0;
    }

    /// <summary>Sends one message.</summary>
    public bool TrySend(ReadOnlySpan<byte> message)
    {
        if (_handle is null)
            return false;
        fixed (byte* bytes = message)
            return RtMidi.OutSend(_handle, bytes, message.Length) >= 0 && Ok;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_handle is null)
            return;
        if (_isInput)
            RtMidi.InFree(_handle);
        else
            RtMidi.OutFree(_handle);
        _handle = null;
    }

    private string Name(uint port)
    {
        var length = LongestName;
        var bytes = stackalloc byte[LongestName];
        var written = RtMidi.PortName(_handle, port, bytes, &length);
        if (!Ok || written < 0)
            return string.Empty;
        return Encoding.UTF8.GetString(new ReadOnlySpan<byte>(bytes, LongestName)).Split('\0')[0];
    }
}
