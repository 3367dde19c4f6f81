using System.Buffers.Binary;
using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>What became of a message that was offered to a source.</summary>
internal enum Taken
{
    /// <summary>It is for somebody else.</summary>
    NotMine,

    /// <summary>It was heard.</summary>
    Heard,

    /// <summary>It is the source's, but holds nothing usable.</summary>
    Malformed,
}

/// <summary>Reads the values of one meter source (or overload flags) from messages, in place and without allocation.</summary>
internal sealed class MeterSource
{
    private readonly MeterProfile _profile;
    private readonly IMeterTarget _target;
    private readonly SocketIndex _sockets;
    private readonly MeterClock[] _clocks;
    private readonly double _frameS;
    private readonly bool _hasForm;
    private MessageForm? _form;

    public MeterSource(MeterProfile profile, int inputs, SocketIndex sockets, IMeterTarget target)
    {
        (_profile, _target, _sockets) = (profile, target, sockets);
        _hasForm = profile.Packing == MeterPacking.OneInput && profile.Address is { HasInput: true, HasSocket: false };
        _clocks = new MeterClock[inputs];
        _frameS = profile.Traits.FrameS;
    }

    /// <summary>Frames missing, on the input that lost most.</summary>
    public int Lost
    {
        get
        {
            var most = 0;
            foreach (ref readonly var clock in _clocks.AsSpan())
                most = Math.Max(most, clock.Lost);
            return most;
        }
    }

    /// <summary>Frames heard, on the input that heard most.</summary>
    public int Frames
    {
        get
        {
            var most = 0;
            foreach (ref readonly var clock in _clocks.AsSpan())
                most = Math.Max(most, clock.Frames);
            return most;
        }
    }

    /// <summary>The source's address as the profile has it.</summary>
    public string Name => _profile.Name;

    /// <summary>The length of a frame as the profile says it.</summary>
    public double FrameS => _frameS;

    /// <summary>Whether an address is one of this source's, and for which input or socket.</summary>
    public bool Knows(ReadOnlySpan<byte> address, out int input, out ReadOnlySpan<byte> socket)
    {
        input = 0;
        socket = default;
        return _profile.Address is { } template && template.TryMatch(address, out input, out socket);
    }

    /// <summary>Reads a whole message that has the form of those before it.</summary>
    /// <returns><see langword="false"/> for every other: it goes the general way.</returns>
    public bool TryRead(ReadOnlySpan<byte> message, out int input, out double value)
    {
        (input, value) = (0, 0);
        return _form is { } form && form.TryRead(message, out input, out value);
    }

    /// <summary>Takes in a message whose address it <see cref="Knows"/>.</summary>
    /// <param name="message">The message.</param>
    /// <param name="input">The input that its address names; 0 for none.</param>
    /// <param name="socket">The bytes of its address that stand for the socket.</param>
    /// <param name="at">Arrival, or the time that its tag stands for.</param>
    /// <param name="order">Its tag for comparing; 0 for none.</param>
    public Taken Take(ref OscMessageReader message, int input, scoped ReadOnlySpan<byte> socket, double at, ulong order) => _profile.Packing switch
    {
        MeterPacking.OneInput => One(ref message, input, socket, at, order),
        MeterPacking.Blob => Blob(ref message, at, order),
        _ => Arguments(ref message, at, order),
    };

    private Taken One(ref OscMessageReader message, int input, scoped ReadOnlySpan<byte> socket, double at, ulong order)
    {
        if (!message.TryReadNumberAt(_profile.Argument, out var value))
            return Taken.Malformed;
        if (_hasForm)
        {
            _form ??= MessageForm.Of(_profile.Address!, _clocks.Length, message.TypeTags, _profile.Argument);
            return Give(input, value, at, order);
        }

        var heard = Taken.NotMine;
        for (var i = 1; i <= _clocks.Length; i++)
        {
            if ((input == 0 || input == i) && _sockets.Feeds(_profile.Address!, i, socket))
                heard = Give(i, value, at, order);
        }

        return heard;
    }

    private Taken Blob(ref OscMessageReader message, double at, ulong order)
    {
        if (!message.TrySeek(_profile.Argument) || !message.TryReadBlob(out var blob) || blob.Length <= _profile.SkipBytes)
            return Taken.Malformed;

        blob = blob[_profile.SkipBytes..];
        var size = _profile.Element == MeterElement.Whole16 ? sizeof(short) : sizeof(int);
        var count = Math.Min(blob.Length / size, _profile.Count);
        var heard = false;
        for (var i = 0; i < count; i++)
            heard |= Give(_profile.FirstInput + i, Element(blob[(i * size)..]), at, order) == Taken.Heard;
        return heard ? Taken.Heard : Taken.Malformed;
    }

    private Taken Arguments(ref OscMessageReader message, double at, ulong order)
    {
        if (!message.TrySeek(_profile.Argument))
            return Taken.Malformed;

        var heard = false;
        for (var i = 0; i < _profile.Count && message.NextTag != OscTypeTag.None; i++)
        {
            while (OscTypeTag.IsBracket(message.NextTag))
                message.TrySkip();
            if (message.TryReadNumber(out var value))
                heard |= Give(_profile.FirstInput + i, value, at, order) == Taken.Heard;
            else
                message.TrySkip();
        }

        return heard ? Taken.Heard : Taken.Malformed;
    }

    private double Element(ReadOnlySpan<byte> bytes) => (_profile.Element, _profile.LittleEndian) switch
    {
        (MeterElement.Real32, false) => BinaryPrimitives.ReadSingleBigEndian(bytes),
        (MeterElement.Real32, true) => BinaryPrimitives.ReadSingleLittleEndian(bytes),
        (MeterElement.Whole16, false) => BinaryPrimitives.ReadInt16BigEndian(bytes),
        (MeterElement.Whole16, true) => BinaryPrimitives.ReadInt16LittleEndian(bytes),
        (_, false) => BinaryPrimitives.ReadInt32BigEndian(bytes),
        (_, true) => BinaryPrimitives.ReadInt32LittleEndian(bytes),
    };

    /// <summary>Takes in a value of an input.</summary>
    public Taken Give(int input, double value, double at, ulong order)
    {
        if (input > _clocks.Length)
            return Taken.NotMine;
        var level = _profile.Quantity == MeterQuantity.Overload ? (float)value : _profile.Scale.ToDbfs(value);
        if (float.IsNaN(level))
            return Taken.Malformed;

        ref var clock = ref _clocks[input - 1];
        if (clock.TryAdvance(at, order, level, _frameS))
            _target.Take(_profile.Quantity, input, level, clock.Time);
        else
            _target.Repeated();
        return Taken.Heard;
    }
}
