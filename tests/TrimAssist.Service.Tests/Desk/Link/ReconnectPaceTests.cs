using CsCheck;
using TrimAssist.Desk.Link.Transport;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>Waits before the next try to connect: growing, bounded, never twice the same on two machines.</summary>
public sealed class ReconnectPaceTests
{
    [Fact]
    public void Waits_double_up_to_a_bound()
    {
        var pace = new ReconnectPace(() => 0.5);
        Assert.Equal([0.25, 0.5, 1, 2, 4, 5, 5], Enumerable.Range(0, 7).Select(_ => pace.Next()));
        pace.Reset();
        Assert.Equal(0.25, pace.Next());
    }

    [Fact]
    public void A_wait_is_off_by_a_quarter_at_most() => Gen.Double[0, 0.999].List[20].Sample(chances =>
    {
        var (jittered, even) = (0, 0);
        var pace = new ReconnectPace(() => chances[jittered++]);
        var middle = new ReconnectPace(() => even++ < 0 ? 0 : 0.5);
        return chances.TrueForAll(_ => Math.Abs((pace.Next() / middle.Next()) - 1) <= ReconnectPace.Jitter + 1e-9);
    });
}
