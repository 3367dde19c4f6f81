using TrimAssist.Protocols.Osc;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>
/// Turns a desk's bundle time tags into session time where its clock runs evenly. The desk's idea of the date does not matter: only the
/// differences are used, against the arrival with the least delay.
/// </summary>
internal sealed class TagClock
{
    private const int Needed = 16;
    private const double NeededS = 1;
    private const double Tolerance = 0.25;

    // The desk's clock may drift against ours: the least delay is forgotten at this rate, 100 parts in a million.
    private const double Drift = 1e-4;
    private double _offset;
    private double _since;
    private double _last;
    private double _lastSent;
    private int _good;
    private bool _noted;

    /// <summary>Whether tags are used at present.</summary>
    public bool IsSane => _good >= Needed && _last - _since >= NeededS;

    /// <summary>The session time of a tag; <paramref name="now"/> itself where tags cannot be used.</summary>
    /// <param name="tag">The bundle's time tag.</param>
    /// <param name="now">When it arrived.</param>
    /// <param name="order">The tag for comparing with others; 0 where it cannot be used.</param>
    /// <param name="turnedBad">Whether a clock that is not sane was met for the first time.</param>
    public double At(OscTimeTag tag, double now, out ulong order, out bool turnedBad)
    {
        order = 0;
        turnedBad = false;
        if (tag.IsImmediate)
            return now;

        var sent = tag.Value / 4294967296.0;
        var offset = now - sent;
        if (_good == 0 || Math.Abs(offset - _offset) > Tolerance)
        {
            turnedBad = _good > 0 && !_noted;
            _noted |= turnedBad;
            (_good, _offset, _since, _last, _lastSent) = (1, offset, now, now, sent);
            return now;
        }

        _offset = Math.Min(offset, _offset + (Drift * (now - _last)));
        _good = sent > _lastSent ? Math.Min(_good + 1, Needed) : _good;
        (_last, _lastSent) = (now, Math.Max(sent, _lastSent));
        if (!IsSane)
            return now;
        order = tag.Value;
        return Math.Min(now, sent + _offset);
    }
}
