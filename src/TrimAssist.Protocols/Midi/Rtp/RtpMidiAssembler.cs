namespace TrimAssist.Protocols.Midi.Rtp;

/// <summary>Joins the system exclusive segments of a stream into whole messages, up to a limit.</summary>
/// <param name="maxExclusiveLength">The longest message accepted, in bytes with F0 and F7.</param>
public sealed class RtpMidiAssembler(int maxExclusiveLength = MidiParser.DefaultMaxExclusiveLength)
{
    private readonly ExclusiveBuffer _exclusive = new(maxExclusiveLength);

    /// <summary>System exclusive messages lost: too long, or with a part missing.</summary>
    public long Lost { get; private set; }

    /// <summary>Takes a command of any kind; true when a system exclusive became whole. It has F0 and F7 and is valid until the next call.</summary>
    public bool TryTake(RtpMidiCommand command, out ReadOnlySpan<byte> exclusive)
    {
        exclusive = default;
        switch (command.Kind)
        {
            case RtpMidiCommandKind.WholeExclusive:
                Open();
                return TryEnd(command.Data, out exclusive);
            case RtpMidiCommandKind.FirstSegment:
                Open();
                _exclusive.Append(command.Data);
                return false;
            case RtpMidiCommandKind.MiddleSegment when _exclusive.IsOpen:
                _exclusive.Append(command.Data);
                return false;
            case RtpMidiCommandKind.LastSegment when _exclusive.IsOpen:
                return TryEnd(command.Data, out exclusive);
            case RtpMidiCommandKind.LastSegment:
                Lost++;
                return false;
            case RtpMidiCommandKind.CancelledExclusive:
                _exclusive.Clear();
                return false;
            default:
                return false;
        }
    }

    /// <summary>Gives up what is half received, as after a lost packet.</summary>
    public void Forget()
    {
        Lost += _exclusive.IsOpen ? 1 : 0;
        _exclusive.Clear();
    }

    private void Open()
    {
        Forget();
        _exclusive.Open();
    }

    private bool TryEnd(ReadOnlySpan<byte> data, out ReadOnlySpan<byte> exclusive)
    {
        _exclusive.Append(data);
        if (_exclusive.TryClose(out exclusive))
            return true;

        Lost++;
        return false;
    }
}
