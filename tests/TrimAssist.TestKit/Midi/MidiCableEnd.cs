using TrimAssist.Core.Wording;
using TrimAssist.Desk.Midi;

namespace TrimAssist.TestKit.Midi;

/// <summary>One end of a <see cref="MidiCable"/>.</summary>
internal sealed class MidiCableEnd(string name, TimeProvider time) : IMidiPort
{
    private readonly Queue<(byte[] Bytes, long Timestamp)> _arrived = new();
    private bool _isIn;
    private bool _isNew;
    private bool _wasConnected;

    public MidiCableEnd Other { get; set; } = null!;

    public string Name => name;

    public Saying? Trouble => _isIn ? null : Saying.Plain("The cable is pulled.");

    public void PlugIn() => (_isIn, _isNew) = (true, true);

    public void Pull()
    {
        _isIn = false;
        _arrived.Clear();
    }

    public void Wait(TimeSpan wait)
    {
        // What was sent has arrived.
    }

    public void Drain(IMidiReceiver receiver, int most)
    {
        if (_isNew && _isIn)
        {
            _isNew = false;
            receiver.Connected(_wasConnected);
            _wasConnected = true;
        }

        for (var left = most; left > 0 && _arrived.TryDequeue(out var piece); left--)
            receiver.Receive(piece.Bytes, piece.Timestamp);
    }

    public bool TrySend(ReadOnlySpan<byte> messages, out string? fault)
    {
        fault = Trouble;
        if (_isIn)
            Other._arrived.Enqueue((messages.ToArray(), time.GetTimestamp()));
        return _isIn;
    }

    public void Dispose() => Pull();
}
