namespace TrimAssist.Protocols.Osc.Framing;

/// <summary>OSC 1.1 stream framing: SLIP with an END at both ends (Freed and Schmeder, NIME 2009, section 4; RFC 1055).</summary>
/// <remarks>A frame that is too long or badly escaped is left out and counted; the next END starts afresh, so the stream is never lost.</remarks>
/// <param name="maxPacketSize">The largest packet accepted, in bytes after unescaping.</param>
public sealed class SlipDeframer(int maxPacketSize = LengthPrefixDeframer.DefaultMaxPacketSize) : IOscDeframer
{
    private const int FirstBufferSize = 256;

    private byte[] _packet = new byte[Math.Min(FirstBufferSize, maxPacketSize)];
    private int _length;
    private bool _escaped;
    private bool _skipping;

    /// <inheritdoc/>
    public FramingError Error { get; private set; }

    /// <inheritdoc/>
    public bool IsLost => false;

    /// <inheritdoc/>
    public long Refused { get; private set; }

    /// <inheritdoc/>
    public bool TryRead(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet)
    {
        while (!input.IsEmpty)
        {
            if (input[0] == Slip.End)
            {
                input = input[1..];
                if (TryEndFrame(out packet))
                    return true;
            }
            else if (_skipping)
            {
                var end = input.IndexOf(Slip.End);
                input = end < 0 ? default : input[end..];
            }
            else if (_escaped || input[0] == Slip.Escape)
            {
                TakeEscape(input[0]);
                input = input[1..];
            }
            else
            {
                var run = input.IndexOfAny(Slip.End, Slip.Escape);
                run = run < 0 ? input.Length : run;
                Append(input[..run]);
                input = input[run..];
            }
        }

        packet = default;
        return false;
    }

    private bool TryEndFrame(out ReadOnlySpan<byte> packet)
    {
        if (_escaped && !_skipping)
            Refuse(FramingError.BadEscape);

        packet = _skipping ? default : _packet.AsSpan(0, _length);
        _length = 0;
        _escaped = false;
        _skipping = false;
        return !packet.IsEmpty;
    }

    private void TakeEscape(byte value)
    {
        if (!_escaped)
        {
            _escaped = true;
            return;
        }

        _escaped = false;
        if (value == Slip.EscapedEnd)
            Append([Slip.End]);
        else if (value == Slip.EscapedEscape)
            Append([Slip.Escape]);
        else
            Refuse(FramingError.BadEscape);
    }

    private void Append(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length > maxPacketSize - _length)
        {
            Refuse(FramingError.TooLong);
            return;
        }

        if (_packet.Length - _length < bytes.Length)
            Array.Resize(ref _packet, Math.Min(maxPacketSize, Math.Max(_packet.Length * 2, _length + bytes.Length)));
        bytes.CopyTo(_packet.AsSpan(_length));
        _length += bytes.Length;
    }

    private void Refuse(FramingError error)
    {
        if (Error == FramingError.None)
            Error = error;
        Refused++;
        _skipping = true;
    }
}
