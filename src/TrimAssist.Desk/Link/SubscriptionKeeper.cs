using TrimAssist.Desk.Link.Tongues;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Desk.Link;

/// <summary>Sends the subscriptions at the start, renews them in time, and asks more often while no meters come.</summary>
internal sealed class SubscriptionKeeper(DeskProfile profile, IDeskTongue tongue, Action<byte[]> send)
{
    /// <summary>While no meters come, a subscription is sent again this often: the desk may just have been started.</summary>
    private const double KnockEveryS = 1;

    private readonly double[] _sentAt = [.. profile.Subscriptions.Select(_ => double.NegativeInfinity)];

    /// <summary>Sends what is due.</summary>
    /// <param name="now">The session's time.</param>
    /// <param name="live">Whether meters come.</param>
    public void Tick(double now, bool live)
    {
        for (var index = 0; index < _sentAt.Length; index++)
        {
            var subscription = profile.Subscriptions[index];
            var every = subscription.Renew?.TotalSeconds ?? double.PositiveInfinity;
            if (now - _sentAt[index] < (live ? every : Math.Min(every, KnockEveryS)))
                continue;
            _sentAt[index] = now;
            foreach (var packet in tongue.Subscription(subscription))
                send(packet);
        }
    }

    /// <summary>Everything is due again: another engine listens.</summary>
    public void Again() => Array.Fill(_sentAt, double.NegativeInfinity);
}
