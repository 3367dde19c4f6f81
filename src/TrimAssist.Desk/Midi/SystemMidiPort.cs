using TrimAssist.Core.Wording;
using TrimAssist.Desk.Network;
using TrimAssist.Protocols.Midi;

namespace TrimAssist.Desk.Midi;

/// <summary>A MIDI port of this machine, through librtmidi. A port that vanishes is opened again once it is back.</summary>
internal sealed class SystemMidiPort : IMidiPort
{
    private const int LongestMessage = MidiParser.DefaultMaxExclusiveLength;
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan PollEvery = TimeSpan.FromMilliseconds(1);
    private readonly TimeProvider _time;
    private readonly byte[] _message = new byte[LongestMessage];
    private readonly MidiParser _splitter = new();
    private readonly ManualResetEventSlim _never = new(false);
    private SystemMidiDevice? _input;
    private SystemMidiDevice? _output;
    private string _inputName = string.Empty;
    private string _outputName = string.Empty;
    private long _lookedAt;
    private bool _isNew;
    private bool _wasOpen;
    private int _held;

    /// <summary>Opens both directions.</summary>
    /// <param name="name">The port's name as the system shows it, or a part of it that only one port has.</param>
    /// <param name="time">The clock.</param>
    /// <exception cref="DeskConnectException">There is no such port, or no MIDI on this machine.</exception>
    public SystemMidiPort(string name, TimeProvider time)
    {
        (Name, _time) = (name, time);
        if (!RtMidi.IsInstalled)
            throw new DeskConnectException($"The MIDI port \"{name}\" needs the library librtmidi: install the package librtmidi6 (Debian, Ubuntu).");
        if (!TryOpen(out var fault))
            throw new DeskConnectException(fault.ToString());
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public Saying? Trouble { get; private set; }

    /// <inheritdoc/>
    public void Wait(TimeSpan wait)
    {
        // The library has no call that waits; MIDI itself takes a millisecond a message.
        if (_held == 0 && !TryReceive())
            _never.Wait(wait < PollEvery ? wait : PollEvery);
    }

    /// <inheritdoc/>
    public void Drain(IMidiReceiver receiver, int most)
    {
        if (_time.GetElapsedTime(_lookedAt) >= LookEvery)
            LookAgain();
        if (_isNew)
        {
            _isNew = false;
            receiver.Connected(_wasOpen);
            _wasOpen = true;
        }

        for (var left = most; left > 0 && (_held > 0 || TryReceive()); left--)
        {
            var length = _held;
            _held = 0;
            receiver.Receive(_message.AsSpan(0, length), _time.GetTimestamp());
        }
    }

    /// <inheritdoc/>
    public bool TrySend(ReadOnlySpan<byte> messages, out string? fault)
    {
        fault = Trouble;
        if (_output is not { } output || fault is not null)
            return false;
        Span<byte> bytes = stackalloc byte[3];
        _splitter.Reset();
        var left = false;
        while (_splitter.TryRead(ref messages, out var message, out var exclusive))
        {
            if (message.TryWrite(bytes, out var length) ? output.TrySend(bytes[..length]) : output.TrySend(exclusive))
            {
                left = true;
                continue;
            }

            var refused = MidiSayings.MidiRefuses(Name, output.Fault);
            fault = refused;
            Lose(refused);
            // Of several messages one may have left: only the desk's word tells what came of that.
            return left;
        }

        return true;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Close();
        _never.Dispose();
    }

    private bool TryReceive() => _input is { } input && input.TryReceive(_message, out _held);

    private bool TryOpen(out Saying fault)
    {
        Close();
        (_input, _output) = (new SystemMidiDevice(isInput: true), new SystemMidiDevice(isInput: false));
        _lookedAt = _time.GetTimestamp();
        if (!TryOpen(_input, MidiSayings.MidiNoneSends, MidiSayings.MidiUnknownSends, out _inputName, out fault)
            || !TryOpen(_output, MidiSayings.MidiNoneTakes, MidiSayings.MidiUnknownTakes, out _outputName, out fault))
        {
            Close();
            Trouble = fault;
            return false;
        }

        (Trouble, _isNew) = (null, true);
        return true;
    }

    private bool TryOpen(SystemMidiDevice device, Func<string, Saying> none, Func<string, string, Saying> unknown, out string found, out Saying fault)
    {
        var names = device.Names();
        var port = PortNames.Find(names, Name);
        found = port is { } at ? names[at] : string.Empty;
        fault = names.Count == 0 ? none(device.Fault) : unknown(Name, string.Join("; ", names));
        if (port is not { } open)
            return false;
        var isOpen = device.TryOpen(open);
        fault = MidiSayings.MidiShut(found, device.Fault);
        return isOpen;
    }

    private void LookAgain()
    {
        _lookedAt = _time.GetTimestamp();
        if (_input is null)
            TryOpen(out _);
        else if (!_input.Names().Contains(_inputName, StringComparer.Ordinal) || !_output!.Names().Contains(_outputName, StringComparer.Ordinal))
            Lose(MidiSayings.MidiGone(Name));
    }

    private void Lose(Saying why)
    {
        Close();
        Trouble = why;
    }

    private void Close()
    {
        _input?.Dispose();
        _output?.Dispose();
        (_input, _output, _held) = (null, null, 0);
    }
}
