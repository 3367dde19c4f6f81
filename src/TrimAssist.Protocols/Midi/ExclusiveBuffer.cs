namespace TrimAssist.Protocols.Midi;

/// <summary>Collects one system exclusive message up to a limit; what goes beyond is not kept.</summary>
internal sealed class ExclusiveBuffer(int limit)
{
    private const int FirstSize = 64;

    private byte[] _bytes = new byte[Math.Min(FirstSize, limit)];
    private int _length;
    private bool _overflowed;

    public bool IsOpen { get; private set; }

    public void Open()
    {
        Clear();
        IsOpen = true;
        Append(MidiStatus.Exclusive);
    }

    public void Append(byte value)
    {
        if (_length == limit)
        {
            _overflowed = true;
            return;
        }

        if (_length == _bytes.Length)
            Array.Resize(ref _bytes, Math.Min(limit, _bytes.Length * 2));
        _bytes[_length++] = value;
    }

    public void Append(ReadOnlySpan<byte> values)
    {
        foreach (var value in values)
            Append(value);
    }

    /// <summary>Ends the message; false when it was longer than the limit.</summary>
    public bool TryClose(out ReadOnlySpan<byte> message)
    {
        Append(MidiStatus.EndOfExclusive);
        message = _overflowed ? default : _bytes.AsSpan(0, _length);
        var isWhole = !_overflowed;
        Clear();
        return isWhole;
    }

    public void Clear()
    {
        IsOpen = false;
        _overflowed = false;
        _length = 0;
    }
}
