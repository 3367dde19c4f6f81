using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;
using TrimAssist.Desk.Link.Transport;

namespace TrimAssist.Desk.Link;

/// <summary>How the link stands, judged by the meters alone: a desk that answers but sends no meters is not watched.</summary>
internal sealed class LinkWatch(double frameS)
{
    /// <summary>Without anything for this long the desk is lost.</summary>
    public const double LostAfterS = 5;

    /// <summary>Without meters for this long the desk is stale: half a second, or three frames where the desk is slower than that.</summary>
    public double StaleAfterS { get; } = Math.Max(0.5, 3 * frameS);

    private double _lastFrame = double.NegativeInfinity;
    private double _lastPacket = double.NegativeInfinity;

    /// <summary>The state.</summary>
    public LinkState State { get; private set; } = LinkState.Connecting;

    /// <summary>Why, in one sentence.</summary>
    public Saying Reason { get; private set; } = LinkSayings.LinkNone;

    /// <summary>
    /// Since when whoever is there now has been speaking: its first word after a silence in which it could have become another desk, or
    /// the moment the link was lost where words went on without meters. A desk may tell its values before its meters begin.
    /// </summary>
    public double SpeaksSince { get; private set; }

    /// <summary>A packet was let in.</summary>
    public void Packet(double now)
    {
        if (now - _lastPacket >= LostAfterS)
            SpeaksSince = now;
        _lastPacket = now;
    }

    /// <summary>A meter frame came.</summary>
    public void Frame(double now) => _lastFrame = now;

    /// <summary>Looks at the clock.</summary>
    /// <param name="now">The session's time.</param>
    /// <param name="trouble">What stands in the way to the desk; <see langword="null"/> for nothing.</param>
    /// <returns>Whether the state changed; the reason is always the present one.</returns>
    public bool Tick(double now, Saying? trouble)
    {
        var before = State;
        (State, Reason) = Judge(now);
        if (State == LinkState.Lost && before != LinkState.Lost && Answers(now))
            SpeaksSince = now;
        if (State != LinkState.Live)
            Reason = trouble ?? Reason;
        return State != before;
    }

    private (LinkState State, Saying Reason) Judge(double now)
    {
        if (double.IsNegativeInfinity(_lastFrame))
            return (LinkState.Connecting, LinkSayings.LinkNoMeters);
        var since = now - _lastFrame;
        if (since < StaleAfterS)
            return (LinkState.Live, LinkSayings.LinkLive);
        return since < LostAfterS
            ? (LinkState.Stale, LinkSayings.LinkStale)
            : (LinkState.Lost, Answers(now) ? LinkSayings.LinkAnswers : LinkSayings.LinkSilent);
    }

    private bool Answers(double now) => now - _lastPacket < LostAfterS;
}
