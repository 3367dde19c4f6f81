using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Gate;

/// <summary>Both halves of a pair count, pads are gains like any other, and limits hold at their very edge: what mutation testing found unproved.</summary>
public sealed class PairAndPadTests
{
    private readonly GateBench _bench = new();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void A_pair_of_which_one_half_moved_is_refused(int moved)
    {
        var pair = ProposePair(14);
        _bench.Set(moved, one => one with { Trim = new Decibels(30) });

        Assert.Equal(GateCode.ValueMoved, _bench.Confirm(GateBench.Naming(pair)).Code);
    }

    [Fact]
    public void The_socket_that_a_pairs_other_half_hangs_on_is_its_own()
    {
        _bench.Set(1, one => one with { Socket = "A1" });
        _bench.Set(2, one => one with { Socket = "A2" });
        var pair = ProposePair(14);

        Assert.Equal("A1", pair.Socket);
        Assert.Equal(GateCode.Accepted, _bench.Confirm(GateBench.Naming(pair)).Code);
    }

    [Theory]
    [InlineData(14.0, 14.0, ProposalState.Applied)]
    [InlineData(14.0, 20.0, ProposalState.Failed)]
    [InlineData(20.0, 14.0, ProposalState.Failed)]
    [InlineData(14.0, null, ProposalState.Unknown)]
    [InlineData(null, 14.0, ProposalState.Unknown)]
    public void A_pair_sent_without_an_answer_is_applied_only_when_both_halves_have_the_value(double? first, double? second, ProposalState expected)
    {
        foreach (var byAsking in new[] { true, false })
        {
            var bench = new GateBench();
            var sent = ProposePair(14, bench);
            bench.Confirm(GateBench.Naming(sent));
            bench.Gate.Settle(sent.Id, new(WriteResult.Unknown, null, Saying.Plain("no word")));
            var before = bench.Settings(1) with { Trim = new Decibels(99) };
            bench.Set(1, one => one with { Trim = first is { } db ? new Decibels(db) : null });
            bench.Set(2, one => one with { Trim = second is { } db ? new Decibels(db) : null });
            if (byAsking)
                bench.Gate.ResolveRead(sent.Id, bench.View);
            else
                bench.Gate.Resolve(before, bench.Settings(1), bench.View);

            Assert.Equal(expected, bench.Book.Find(sent.Id)!.State);
        }
    }

    [Theory]
    [InlineData(true, true, false)]
    [InlineData(true, false, true)]
    [InlineData(false, true, true)]
    public void One_open_half_makes_a_pairs_increase_a_danger(bool firstMuted, bool secondMuted, bool danger)
    {
        _bench.Set(1, one => one with { Muted = firstMuted });
        _bench.Set(2, one => one with { Muted = secondMuted });

        Assert.Equal(danger, ProposePair(27).Needs.Contains(Dangers.OpenIncrease));
    }

    [Theory]
    [InlineData(-60.0, false)]
    [InlineData(-59.9, true)]
    [InlineData(null, true)]
    public void A_fader_at_the_foot_of_its_scale_is_down_and_an_unknown_one_is_up(double? fader, bool danger)
    {
        _bench.Set(1, one => one with { Muted = false, FaderDb = fader });

        Assert.Equal(danger, _bench.ProposeTrim(40).Needs.Contains(Dangers.OpenIncrease));
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void A_pad_that_comes_out_of_an_open_input_is_an_increase_and_one_that_goes_in_is_none(bool on, bool danger)
    {
        _bench.Set(1, one => one with { Muted = false });

        Assert.Equal(danger, Of(ProposalKind.Pad, !on, on, _bench.Desk, othersOnSocket: false).Contains(Dangers.OpenIncrease));
        Assert.Equal(on ? -20 : 20, Dangers.RiseDb(ProposalKind.Pad, SettingValue.Switch(!on), SettingValue.Switch(on), _bench.Desk));
    }

    [Theory]
    [InlineData(false, false, false)]
    [InlineData(true, false, true)]
    [InlineData(false, true, true)]
    [InlineData(true, true, true)]
    public void A_pad_that_others_hear_says_so(bool shared, bool othersOnSocket, bool danger) => Assert.Equal(
        danger,
        Of(ProposalKind.Pad, false, true, GateBench.Describe(shared ? ["monitors"] : []), othersOnSocket).Contains(Dangers.SharedPreamp));

    [Fact]
    public void On_and_off_have_different_digests()
    {
        static string Digest(bool from, bool to) =>
            ProposalDigest.Of(Guid.Empty, "bench", [1], null, ProposalKind.Pad, SettingValue.Switch(from), SettingValue.Switch(to), 1);

        Assert.Equal(4, new[] { Digest(false, false), Digest(false, true), Digest(true, false), Digest(true, true) }.Distinct().Count());
    }

    [Fact]
    public void A_confirmation_that_comes_too_late_closes_the_proposal_once()
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Wait(ProposalLife.Trim);
        _bench.Confirm(GateBench.Naming(shown));
        Assert.Equal(ProposalState.Expired, _bench.Book.Find(shown.Id)!.State);
        var told = _bench.Changes.Count;
        _bench.Confirm(GateBench.Naming(shown));

        Assert.Equal(told, _bench.Changes.Count);
    }

    [Theory]
    [InlineData(19, false, true)]
    [InlineData(21, false, false)]
    [InlineData(23, true, true)]
    [InlineData(23.5, true, false)]
    public void A_limited_confirmer_may_lower_and_raise_a_little_behind_the_mute(double to, bool muted, bool allowed)
    {
        _bench.Set(1, one => one with { Muted = muted });

        Assert.Equal(allowed, new ConfirmerLimits([1], ConfirmerLimits.RoomRiseDb).Allow(_bench.ProposeTrim(to), _bench.Desk, _bench.Settings));
    }

    [Theory]
    [InlineData("A1", false)]
    [InlineData("A2", true)]
    [InlineData(null, true)]
    public void A_limited_confirmer_may_not_turn_a_preamp_that_feeds_somebody_elses_input_too(string? theirs, bool allowed)
    {
        _bench.Set(1, one => one with { Socket = "A1" });
        _bench.Set(2, one => one with { Socket = theirs });
        var lower = _bench.ProposeTrim(15);

        Assert.Equal(allowed, new ConfirmerLimits([1], 3).Allow(lower, _bench.Desk, _bench.Settings));
        Assert.True(new ConfirmerLimits([1, 2], 3).Allow(lower, _bench.Desk, _bench.Settings));
        _bench.Set(3, one => one with { Socket = "A3" });
        var pair = _bench.Proposals.Propose(new([1, 3], [new(ProposalKind.Trim, SettingValue.Gain(14), Saying.Plain("because"))], null, new()), _bench.Now, ProposalLife.Trim)!;
        Assert.Equal(allowed, new ConfirmerLimits([1, 3], 3).Allow(pair, _bench.Desk, _bench.Settings));
    }

    [Fact]
    public void A_limited_confirmer_needs_both_halves_of_a_pair_and_both_of_them_muted()
    {
        var pair = ProposePair(22);
        Assert.False(new ConfirmerLimits([1], 3).Allow(pair, _bench.Desk, _bench.Settings));
        Assert.True(new ConfirmerLimits([1, 2], 3).Allow(pair, _bench.Desk, _bench.Settings));
        _bench.Set(2, one => one with { Muted = null });

        Assert.False(new ConfirmerLimits([1, 2], 3).Allow(pair, _bench.Desk, _bench.Settings));
    }

    private Proposal ProposePair(double to, GateBench? bench = null)
    {
        bench ??= _bench;
        return bench.Proposals.Propose(
            new([1, 2], [new(ProposalKind.Trim, SettingValue.Gain(to), Saying.Plain("because"))], null, new()), bench.Now, ProposalLife.Trim)!;
    }

    private IReadOnlyList<string> Of(ProposalKind kind, bool from, bool to, DeskDescription desk, bool othersOnSocket) =>
        Dangers.Of(kind, SettingValue.Switch(from), SettingValue.Switch(to), [_bench.Settings(1)], desk, othersOnSocket);
}
