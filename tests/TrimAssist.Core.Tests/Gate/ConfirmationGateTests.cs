using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Gate;

public sealed class ConfirmationGateTests
{
    private readonly GateBench _bench = new();

    [Fact]
    public void The_right_digest_gives_one_permission_that_says_exactly_what_was_shown()
    {
        var shown = _bench.ProposeTrim(14);

        var (code, change) = _bench.Confirm(GateBench.Naming(shown));

        Assert.Equal(GateCode.Accepted, code);
        Assert.NotNull(change);
        Assert.Equal((shown.Id, shown.Kind, shown.From, shown.To), (change.Proposal, change.Kind, change.From, change.To));
        Assert.Equal(ProposalState.Confirmed, _bench.Book.Find(shown.Id)!.State);
    }

    // IEEE 1815 (DNP3), as the test of a public library has it: an identical repeat is answered and not executed twice.
    [Fact]
    public void The_same_confirmation_again_is_answered_and_gives_no_second_permission()
    {
        var confirmation = GateBench.Naming(_bench.ProposeTrim(14));
        _bench.Confirm(confirmation);

        Assert.Equal((GateCode.AlreadyConfirmed, null), _bench.Confirm(confirmation));
    }

    [Fact]
    public void A_proposal_closed_by_the_very_reading_that_the_gate_asked_for_is_answered_as_moved()
    {
        var shown = _bench.ProposeTrim(14);
        Assert.Equal(GateCode.Accepted, _bench.Gate.Ask(GateBench.Naming(shown), _bench.Link, _bench.Now).Code);

        // What the desk answers reaches the proposals first, as any other word of the desk does.
        _bench.Set(1, settings => settings with { Trim = new Decibels(23) });
        _bench.Proposals.SupersedeMoved(_bench.View);

        Assert.Equal(ProposalState.Superseded, _bench.Book.Find(shown.Id)!.State);
        Assert.Equal(GateCode.ValueMoved, _bench.Gate.Reserve(GateBench.Naming(shown), _bench.View, _bench.Now).Code);
        Assert.Equal(GateCode.NotOpen, _bench.Gate.Ask(GateBench.Naming(shown), _bench.Link, _bench.Now).Code);
    }

    [Fact]
    public void A_danger_that_comes_up_while_the_journal_writes_gives_no_permission_and_leaves_the_proposal_to_be_confirmed_anew()
    {
        var shown = _bench.ProposeTrim(30);
        Assert.Equal(GateCode.Accepted, _bench.Gate.Reserve(GateBench.Naming(shown), _bench.View, _bench.Now).Code);

        _bench.Set(1, settings => settings with { Muted = false });
        _bench.Proposals.RenewDangers();

        Assert.Null(_bench.Gate.Grant(shown.Id, _bench.View));
        Assert.True(_bench.Book.Find(shown.Id)!.IsOpen);
        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown)).Code);
        Assert.NotNull(_bench.Confirm(GateBench.Naming(shown, "open-increase")).Change);
    }

    [Fact]
    public void A_wrong_digest_is_refused_and_does_not_spend_the_proposal()
    {
        var shown = _bench.ProposeTrim(14);

        Assert.Equal(GateCode.DigestMismatch, _bench.Confirm(new(shown.Id, new string('0', 64), [], "engineer")).Code);
        Assert.Equal(GateCode.Accepted, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    // IEEE 1815: valid only while the elapsed time is below the limit; at the limit it is over.
    [Theory]
    [InlineData(899.999, GateCode.Accepted)]
    [InlineData(900, GateCode.Expired)]
    public void A_trim_can_be_confirmed_for_less_than_fifteen_minutes(double seconds, GateCode expected)
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Wait(TimeSpan.FromSeconds(seconds));

        Assert.Equal(expected, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Fact]
    public void A_proposal_that_was_swept_as_expired_still_answers_expired()
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Wait(ProposalLife.Trim);
        _bench.Book.Expire(_bench.Now);

        Assert.Equal(GateCode.Expired, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Theory]
    [InlineData(20.4, GateCode.Accepted)]
    [InlineData(20.5, GateCode.ValueMoved)]
    [InlineData(19.5, GateCode.ValueMoved)]
    public void A_trim_that_moved_by_more_than_the_tolerance_is_refused(double trimNow, GateCode expected)
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Set(1, one => one with { Trim = new Decibels(trimNow) });

        Assert.Equal(expected, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Fact]
    public void A_moved_value_supersedes_so_that_moving_it_back_does_not_revive_the_proposal()
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Set(1, one => one with { Trim = new Decibels(30) });
        _bench.Confirm(GateBench.Naming(shown));
        _bench.Set(1, one => one with { Trim = new Decibels(20) });

        Assert.Equal(GateCode.NotOpen, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Fact]
    public void An_input_repatched_to_another_socket_is_refused()
    {
        _bench.Set(1, one => one with { Socket = "A1" });
        var shown = _bench.ProposeTrim(14);
        _bench.Set(1, one => one with { Socket = "A2" });

        Assert.Equal(GateCode.ValueMoved, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Fact]
    public void A_value_that_the_desk_no_longer_tells_is_refused()
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Set(1, one => one with { Trim = null });

        Assert.Equal(GateCode.ValueMoved, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Theory]
    [InlineData(LinkState.Connecting)]
    [InlineData(LinkState.Stale)]
    [InlineData(LinkState.Lost)]
    public void Only_a_live_link_lets_a_confirmation_through(LinkState link)
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Link = link;

        Assert.Equal(GateCode.DeskNotLive, _bench.Confirm(GateBench.Naming(shown)).Code);
        _bench.Link = LinkState.Live;
        Assert.Equal(GateCode.Accepted, _bench.Confirm(GateBench.Naming(shown)).Code);
    }

    [Fact]
    public void A_danger_must_be_named_back_exactly()
    {
        _bench.Set(1, one => one with { Muted = false });
        var shown = _bench.ProposeTrim(27);

        Assert.Equal([Dangers.OpenIncrease], shown.Needs);
        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown)).Code);
        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown, Dangers.OpenIncrease, Dangers.SharedPreamp)).Code);
        Assert.Equal(GateCode.Accepted, _bench.Confirm(GateBench.Naming(shown, Dangers.OpenIncrease)).Code);
    }

    [Fact]
    public void A_word_that_nobody_asked_for_is_refused()
    {
        var shown = _bench.ProposeTrim(14);

        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown, Dangers.OpenIncrease)).Code);
    }

    [Fact]
    public void A_mute_opened_after_the_proposal_was_shown_makes_the_danger_due()
    {
        var shown = _bench.ProposeTrim(27);
        Assert.Empty(shown.Needs);
        _bench.Set(1, one => one with { Muted = false });
        _bench.Proposals.RenewDangers();

        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown)).Code);
        Assert.Equal(GateCode.Accepted, _bench.Confirm(GateBench.Naming(shown, Dangers.OpenIncrease)).Code);
    }

    [Theory]
    [InlineData(0, GateCode.Accepted)]
    [InlineData(2000, GateCode.Accepted)]
    [InlineData(2000.1, GateCode.PictureStale)]
    [InlineData(3_600_000, GateCode.PictureStale)]
    public void A_picture_older_than_two_seconds_is_refused_and_not_spent(double ageMs, GateCode expected)
    {
        var confirmation = GateBench.Naming(_bench.ProposeTrim(14));

        Assert.Equal(expected, _bench.Confirm(confirmation with { PictureAge = TimeSpan.FromMilliseconds(ageMs) }).Code);
        Assert.Equal(expected == GateCode.Accepted ? GateCode.AlreadyConfirmed : GateCode.Accepted, _bench.Confirm(confirmation).Code);
    }

    [Fact]
    public void Codes_come_in_their_order_when_several_apply()
    {
        _bench.Set(1, one => one with { Muted = false });
        var shown = _bench.ProposeTrim(27);
        _bench.Link = LinkState.Lost;
        _bench.Set(1, one => one with { Trim = new Decibels(3) });
        var wrong = new Confirmation(shown.Id, "wrong", [], "engineer");

        Assert.Equal(GateCode.DigestMismatch, _bench.Confirm(wrong).Code);
        Assert.Equal(GateCode.AcknowledgeNeeded, _bench.Confirm(GateBench.Naming(shown)).Code);
        Assert.Equal(GateCode.DeskNotLive, _bench.Confirm(GateBench.Naming(shown, Dangers.OpenIncrease)).Code);
        _bench.Wait(ProposalLife.Trim);
        Assert.Equal(GateCode.Expired, _bench.Confirm(wrong).Code);
    }

    [Fact]
    public void Two_confirmers_at_once_get_one_permission()
    {
        var confirmation = GateBench.Naming(_bench.ProposeTrim(14));

        var first = _bench.Gate.Reserve(confirmation, _bench.View, _bench.Now);
        var second = _bench.Gate.Reserve(confirmation, _bench.View, _bench.Now);

        Assert.Equal((GateCode.Accepted, GateCode.NotOpen), (first.Code, second.Code));
        Assert.NotNull(_bench.Gate.Grant(confirmation.Id, _bench.View));
        Assert.Null(_bench.Gate.Grant(confirmation.Id, _bench.View));
    }

    [Fact]
    public void A_journal_that_cannot_write_leaves_the_proposal_open_and_sends_nothing()
    {
        var confirmation = GateBench.Naming(_bench.ProposeTrim(14));
        _bench.Gate.Reserve(confirmation, _bench.View, _bench.Now);
        _bench.Gate.Release(confirmation.Id);

        Assert.Null(_bench.Gate.Grant(confirmation.Id, _bench.View));
        Assert.Equal(GateCode.Accepted, _bench.Confirm(confirmation).Code);
    }

    [Fact]
    public void A_value_that_moves_while_the_journal_writes_gives_no_permission()
    {
        var confirmation = GateBench.Naming(_bench.ProposeTrim(14));
        _bench.Gate.Reserve(confirmation, _bench.View, _bench.Now);
        _bench.Set(1, one => one with { Trim = new Decibels(33) });

        Assert.Null(_bench.Gate.Grant(confirmation.Id, _bench.View));
        Assert.Equal(ProposalState.Failed, _bench.Book.Find(confirmation.Id)!.State);
    }

    [Fact]
    public void An_unknown_id_is_not_found() =>
        Assert.Equal(GateCode.NotFound, _bench.Confirm(new(Guid.NewGuid(), "x", [], "engineer")).Code);

    [Theory]
    [InlineData(WriteResult.Applied, ProposalState.Applied)]
    [InlineData(WriteResult.Failed, ProposalState.Failed)]
    [InlineData(WriteResult.NotSent, ProposalState.Failed)]
    [InlineData(WriteResult.Unknown, ProposalState.Unknown)]
    public void The_desks_answer_decides_the_end(WriteResult result, ProposalState expected)
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Confirm(GateBench.Naming(shown));

        Assert.Equal(expected, _bench.Gate.Settle(shown.Id, new(result, null, Saying.Plain("so"))).State);
    }

    [Theory]
    [InlineData(14, ProposalState.Applied)]
    [InlineData(17, ProposalState.Failed)]
    public void What_was_sent_and_not_read_back_is_resolved_by_what_the_desk_tells_later(double told, ProposalState expected)
    {
        var shown = SentWithoutAnswer();
        var before = _bench.Settings(1);
        _bench.Set(1, one => one with { Trim = new Decibels(told) });
        _bench.Gate.Resolve(before, _bench.Settings(1), _bench.View);

        Assert.Equal(expected, _bench.Book.Find(shown.Id)!.State);
    }

    [Fact]
    public void What_the_desk_told_before_the_send_or_of_something_else_resolves_nothing()
    {
        var shown = SentWithoutAnswer();
        var before = _bench.Settings(1);
        _bench.Set(1, one => one with { FaderDb = -20 });
        _bench.Gate.Resolve(before, _bench.Settings(1), _bench.View);
        _bench.Gate.Resolve(_bench.Settings(2), _bench.Settings(2) with { Trim = new Decibels(3) }, _bench.View);

        Assert.Equal(ProposalState.Unknown, _bench.Book.Find(shown.Id)!.State);
    }

    private Proposal SentWithoutAnswer()
    {
        var shown = _bench.ProposeTrim(14);
        _bench.Confirm(GateBench.Naming(shown));
        return _bench.Gate.Settle(shown.Id, new(WriteResult.Unknown, null, Saying.Plain("no word")));
    }
}
