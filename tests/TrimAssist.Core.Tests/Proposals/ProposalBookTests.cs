using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Tests.Gate;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Proposals;

/// <summary>What the book tells, keeps, forgets and lets give way: what mutation testing found unproved.</summary>
public sealed class ProposalBookTests
{
    private readonly GateBench _bench = new();

    [Fact]
    public void Every_new_proposal_every_move_and_every_change_of_dangers_is_told_once()
    {
        var shown = _bench.ProposeTrim(30);
        _bench.Set(1, one => one with { Muted = false });
        _bench.Proposals.RenewDangers();
        _bench.Proposals.RenewDangers();
        _bench.Book.Move(shown.Id, ProposalState.Declined, Saying.Plain("no"));
        _bench.Book.Explain(shown.Id, Saying.Plain("thanks"));

        Assert.Equal(
            [(ProposalState.Open, 0, null), (ProposalState.Open, 1, null), (ProposalState.Declined, 1, "no"), (ProposalState.Declined, 1, "no thanks")],
            _bench.Changes.Select(change => (change.State, change.Needs.Count, (string?)change.Outcome)));
    }

    [Fact]
    public void A_closed_proposal_keeps_the_dangers_that_it_was_closed_with()
    {
        var shown = _bench.ProposeTrim(30);
        _bench.Book.Move(shown.Id, ProposalState.Declined, null);
        _bench.Book.Renew(shown.Id, [Dangers.OpenIncrease], []);

        Assert.Empty(_bench.Book.Find(shown.Id)!.Needs);
    }

    [Fact]
    public void Another_inputs_proposal_does_not_give_way()
    {
        var first = _bench.ProposeTrim(14);
        _bench.ProposeTrim(14, input: 2);

        Assert.True(_bench.Book.Find(first.Id)!.IsOpen);
    }

    [Fact]
    public void A_newer_mute_takes_the_place_of_an_older_unmute_and_of_no_trim()
    {
        var (trim, unmute) = (_bench.ProposeTrim(14), Propose(ProposalKind.Unmute, on: false));
        _bench.Set(1, one => one with { Muted = false });
        Propose(ProposalKind.Mute, on: true);

        Assert.Equal(
            (ProposalState.Open, ProposalState.Superseded), (_bench.Book.Find(trim.Id)!.State, _bench.Book.Find(unmute.Id)!.State));
    }

    [Fact]
    public void The_oldest_closed_ones_are_forgotten_beyond_the_bound_and_what_is_open_or_unknown_never()
    {
        var open = _bench.ProposeTrim(14, input: 3);
        var unknown = _bench.ProposeTrim(14, input: 4);
        _bench.Book.Move(unknown.Id, ProposalState.Unknown, null);
        var oldest = _bench.ProposeTrim(14);
        for (var i = 0; i < ProposalBook.Bound; i++)
            _bench.ProposeTrim(14 + (i % 2));

        Assert.Equal(ProposalBook.Bound, _bench.Book.All.Count());
        Assert.Null(_bench.Book.Find(oldest.Id));
        Assert.Equal((ProposalState.Open, ProposalState.Unknown), (_bench.Book.Find(open.Id)!.State, _bench.Book.Find(unknown.Id)!.State));
    }

    [Fact]
    public void What_an_earlier_run_left_is_remembered_once_and_not_announced()
    {
        var earlier = _bench.ProposeTrim(14) with { Id = Guid.NewGuid(), State = ProposalState.Expired };
        var told = _bench.Changes.Count;
        _bench.Book.Recall(earlier);
        _bench.Book.Recall(earlier);

        Assert.Single(_bench.Book.All, one => one.Id == earlier.Id);
        Assert.Equal(told, _bench.Changes.Count);
    }

    [Fact]
    public void One_half_under_a_safe_patch_keeps_a_pair_closed()
    {
        _bench.Proposals.LeaveToPatches([2]);
        var pair = _bench.Proposals.Propose(
            new([1, 2], [new(ProposalKind.Unmute, SettingValue.Switch(false), Saying.Plain("open again"))], null, new()), _bench.Now, ProposalLife.Trim);

        Assert.Null(pair);
    }

    [Theory]
    [InlineData(5.0, 33.0, 32.0)]
    [InlineData(-12.0, -3.5, -5.0)]
    public void A_trims_steps_are_counted_from_its_lowest_setting(double minDb, double wanted, double expected) =>
        Assert.Equal(expected, TrimGrid.AtMost(new TrimControl(minDb, 60, minDb > 0 ? 3 : 7, 0.4, Digital: false, []), wanted));

    private Proposal Propose(ProposalKind kind, bool on) => _bench.Proposals.Propose(
        new([1], [new(kind, SettingValue.Switch(on), Saying.Plain("because"))], null, new()), _bench.Now, ProposalLife.Trim)!;
}
