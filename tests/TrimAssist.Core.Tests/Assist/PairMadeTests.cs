using TrimAssist.Core.Proposals;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>A pair made or parted on the desk while a proposal waits: what would be changed is no longer what was shown.</summary>
public sealed class PairMadeTests
{
    private readonly AssistantBench _bench = new();

    [Theory]
    [InlineData(null, 2)]
    [InlineData(2, null)]
    [InlineData(2, 1)]
    public void A_trim_that_waits_gives_way(int? before, int? after)
    {
        _bench.Say(one => one with { LinkedTo = before });
        var shown = _bench.ProposeTrim(14);
        _bench.Say(one => one with { LinkedTo = after });
        Assert.Equal(ProposalState.Superseded, _bench.Find(shown).State);
        Assert.Contains("pair", _bench.Find(shown).Outcome, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mute_that_waits_stays_since_it_was_called_for_by_a_danger()
    {
        _bench.Say(one => one with { Muted = false });
        var shown = _bench.Propose(ProposalKind.Mute, Desks.SettingValue.Switch(true));
        _bench.Say(one => one with { LinkedTo = 2 });
        Assert.Equal(ProposalState.Open, _bench.Find(shown).State);
    }
}
