namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// Knows which engine of a desk the meters come from. Another one that is let in takes over only once the first has fallen silent;
/// until then its meters would double every frame.
/// </summary>
internal sealed class EngineWatch(double silentAfterS)
{
    private byte[] _engine = [];
    private byte[] _former = [];
    private double _lastFrame = double.NegativeInfinity;

    /// <summary>Whether a packet comes from an engine that was replaced by one that is alive: what it says is old.</summary>
    public bool IsFormer(ReadOnlySpan<byte> address, double now) =>
        _former.Length > 0 && now - _lastFrame < silentAfterS && address.SequenceEqual(_former);

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
            (_former, _engine) = (_engine, address.ToArray());
        }

        _lastFrame = now;
        return true;
    }
}
