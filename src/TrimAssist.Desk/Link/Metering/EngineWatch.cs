using System.Net;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// Knows which engine of a desk speaks for it, by where the meters come from, and where commands go. Another engine takes over only once
/// the first has fallen silent: until then its meters would double every frame, and its values may be another show's.
/// </summary>
/// <param name="silentAfterS">An engine without meters for this long is silent.</param>
/// <param name="lostAfterS">While nobody has sent any for this long, each is knocked at; at the start the first is given as long to speak.</param>
/// <param name="named">The engines that the profile names, the first one first; none where the connection itself says who speaks.</param>
internal sealed class EngineWatch(double silentAfterS, double lostAfterS, IReadOnlyList<IPAddress> named)
{
    // While all are silent, each is knocked at for this long: two subscriptions.
    private const double KnockForS = 2;

    private readonly byte[][] _named = [.. named.Select(engine => engine.GetAddressBytes())];
    private byte[] _engine = named.Count > 1 ? named[0].GetAddressBytes() : [];
    private byte[] _former = [];
    private byte[] _target = named.Count > 0 ? named[0].GetAddressBytes() : [];
    private double _lastFrame = lostAfterS - silentAfterS;
    private double _turnedAt;

    /// <summary>Where commands go; <see langword="null"/> where the connection itself says so.</summary>
    public IPAddress? Target => _target.Length > 0 ? new(_target) : null;

    /// <summary>Whether a packet comes from an engine that does not speak for the desk now: one that was replaced, or one that stands by.</summary>
    public bool IsAside(ReadOnlySpan<byte> address, double now)
    {
        if (address.SequenceEqual(_engine) || now - _lastFrame >= silentAfterS)
            return false;
        if (_former.Length > 0 && address.SequenceEqual(_former))
            return true;
        return _named.Length > 1 && IsNamed(address);
    }

    /// <summary>Whether meters from this address count.</summary>
    /// <param name="address">The sender's address bytes.</param>
    /// <param name="now">The session's time.</param>
    /// <param name="takesOver">Whether it takes over with this frame.</param>
    public bool Admits(ReadOnlySpan<byte> address, double now, out bool takesOver)
    {
        takesOver = false;
        if (!address.SequenceEqual(_engine))
        {
            if (_engine.Length > 0 && now - _lastFrame < silentAfterS)
                return false;
            takesOver = _engine.Length > 0;
            // Commands follow the meters only where they went to the engine that sent them.
            if (_target.AsSpan().SequenceEqual(_engine))
                _target = address.ToArray();
            (_former, _engine) = (_engine, address.ToArray());
        }

        _lastFrame = now;
        return true;
    }

    /// <summary>While every engine is silent, knocks at one after the other.</summary>
    /// <returns>Whether it is another one's turn.</returns>
    public bool TryTurn(double now)
    {
        if (_named.Length < 2 || now - _lastFrame < lostAfterS || now - _turnedAt < KnockForS)
            return false;
        var next = _named[(Array.FindIndex(_named, engine => engine.AsSpan().SequenceEqual(_target)) + 1) % _named.Length];
        (_engine, _target, _former, _turnedAt) = (next, next, [], now);
        return true;
    }

    private bool IsNamed(ReadOnlySpan<byte> address)
    {
        foreach (var engine in _named)
        {
            if (address.SequenceEqual(engine))
                return true;
        }

        return false;
    }
}
