namespace TrimAssist.Protocols.Midi;

/// <summary>Finds messages in a stream of MIDI bytes cut anywhere: running status, real-time bytes inside anything, system exclusive up to a limit. Never throws; what is wrong is left out, counted and named.</summary>
/// <remarks>Running status follows the practice MIDI 1.0 recommends to receivers: kept by channel status, cleared by F0 to F7, untouched by F8 to FF.</remarks>
/// <param name="maxExclusiveLength">The longest system exclusive message accepted, in bytes with F0 and F7.</param>
public sealed class MidiParser(int maxExclusiveLength = MidiParser.DefaultMaxExclusiveLength)
{
    /// <summary>The limit where none is given.</summary>
    public const int DefaultMaxExclusiveLength = 4_096;

    private readonly ExclusiveBuffer _exclusive = new(maxExclusiveLength);
    private byte _status;
    private byte _firstData;
    private int _dataCount;

    /// <summary>The first fault met.</summary>
    public MidiError FirstError { get; private set; }

    /// <summary>The fault met last.</summary>
    public MidiError LastError { get; private set; }

    /// <summary>Faults met so far.</summary>
    public long Faults { get; private set; }

    /// <summary>Takes bytes off <paramref name="input"/> until something is whole; false when all are taken and more are needed.</summary>
    /// <param name="input">The bytes; what was taken is cut off.</param>
    /// <param name="message">A message of at most three bytes; the default when a system exclusive was found instead.</param>
    /// <param name="exclusive">A whole system exclusive with F0 and F7, valid until the next call; empty when a message was found.</param>
    public bool TryRead(ref ReadOnlySpan<byte> input, out MidiMessage message, out ReadOnlySpan<byte> exclusive)
    {
        while (!input.IsEmpty)
        {
            var value = input[0];
            input = input[1..];
            if (MidiStatus.IsStatus(value) ? TryTakeStatus(value, out message, out exclusive) : TryTakeData(value, out message, out exclusive))
                return true;
        }

        message = default;
        exclusive = default;
        return false;
    }

    /// <summary>Forgets running status and anything half received, as after a reconnect.</summary>
    public void Reset()
    {
        _exclusive.Clear();
        ForgetStatus();
    }

    private bool TryTakeStatus(byte status, out MidiMessage message, out ReadOnlySpan<byte> exclusive)
    {
        message = default;
        exclusive = default;
        if (MidiStatus.IsRealTime(status))
            return MidiMessage.TryCreate(status, 0, 0, out message) || Fault(MidiError.UndefinedStatus);

        if (_exclusive.IsOpen)
            return TryEndExclusive(status, out message, out exclusive);

        if (_dataCount > 0 || (_status != 0 && !MidiStatus.IsChannel(_status)))
            Fault(MidiError.MessageCut);
        if (status == MidiStatus.EndOfExclusive)
            Fault(MidiError.StrayEndOfExclusive);
        return TryBegin(status, out message);
    }

    private bool TryEndExclusive(byte status, out MidiMessage message, out ReadOnlySpan<byte> exclusive)
    {
        message = default;
        exclusive = default;
        if (status == MidiStatus.EndOfExclusive)
            return _exclusive.TryClose(out exclusive) || Fault(MidiError.ExclusiveTooLong);

        _exclusive.Clear();
        Fault(MidiError.ExclusiveCut);
        return TryBegin(status, out message);
    }

    private bool TryBegin(byte status, out MidiMessage message)
    {
        ForgetStatus();
        message = default;
        switch (MidiStatus.DataLength(status))
        {
            case MidiStatus.Undefined:
                return Fault(MidiError.UndefinedStatus);
            case MidiStatus.Variable:
                if (status == MidiStatus.Exclusive)
                    _exclusive.Open();
                return false;
            case 0:
                return MidiMessage.TryCreate(status, 0, 0, out message);
            default:
                _status = status;
                return false;
        }
    }

    private bool TryTakeData(byte value, out MidiMessage message, out ReadOnlySpan<byte> exclusive)
    {
        message = default;
        exclusive = default;
        if (_exclusive.IsOpen)
        {
            _exclusive.Append(value);
            return false;
        }

        if (_status == 0)
            return Fault(MidiError.DataWithoutStatus);

        var needed = MidiStatus.DataLength(_status);
        if (++_dataCount < needed)
        {
            _firstData = value;
            return false;
        }

        _ = needed == 1 ? MidiMessage.TryCreate(_status, value, 0, out message) : MidiMessage.TryCreate(_status, _firstData, value, out message);
        _dataCount = 0;
        if (!MidiStatus.IsChannel(_status))
            ForgetStatus();
        return true;
    }

    private void ForgetStatus()
    {
        _status = 0;
        _dataCount = 0;
    }

    private bool Fault(MidiError error)
    {
        if (FirstError == MidiError.None)
            FirstError = error;
        LastError = error;
        Faults++;
        return false;
    }
}
