using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

/// <summary>What the session asks the desk, and which answers count.</summary>
public sealed class QuestionTests
{
    private static readonly TimeSpan Soon = TimeSpan.FromMilliseconds(600);

    [Fact]
    public void Everything_is_asked_at_the_start_by_the_address_alone()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Mute);
        Assert.All(bench.Desk.Heard, message => Assert.Empty(message.Arguments));
        Assert.Equal(8, bench.Desk.Heard.Select(message => message.Address).Distinct().Count());
    }

    [Fact]
    public void A_value_is_known_once_it_was_told_and_not_before()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        Assert.Null(bench.Session.Settings(2).Trim);
        bench.Say("/t/2/gain", OscArgument.Of(31f));
        Assert.Equal(31, bench.Session.Settings(2).Trim!.Value.Value);
        Assert.Null(bench.Session.Settings(1).Trim);
    }

    [Fact]
    public void A_trim_that_cannot_be_asked_for_is_not_fresh_because_its_source_answered()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim + "\nquery = \"none\"", LinkProfiles.Source);
        var reading = bench.Begin(() => bench.Session.ReadAsync([1], ProposalKind.Trim, Soon));
        bench.Say("/t/1/plug", OscArgument.Of(7));
        Assert.Equal(FreshRead.NotAsked, SessionBench.Done(reading));
    }

    [Fact]
    public void A_reading_is_fresh_when_control_and_source_have_answered()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Source);
        bench.Say("/t/1/gain", OscArgument.Of(30f));
        bench.Say("/t/1/plug", OscArgument.Of(7));
        var reading = bench.Begin(() => bench.Session.ReadAsync([1], ProposalKind.Trim, Soon));
        Assert.False(reading.IsCompleted);
        bench.Say("/t/1/gain", OscArgument.Of(30f));
        Assert.False(reading.IsCompleted);
        bench.Say("/t/1/plug", OscArgument.Of(7));
        Assert.Equal(FreshRead.Answered, SessionBench.Done(reading));
    }

    [Fact]
    public void A_lost_question_is_asked_again_and_the_wait_ends_in_time()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Pass(5);
        bench.Desk.Heard.Clear();
        var reading = bench.Begin(() => bench.Session.ReadAsync([3], ProposalKind.Trim, Soon));
        bench.Pass(0.55);
        Assert.Equal(3, bench.Desk.HeardAt("/t/3/gain").Count);
        Assert.False(reading.IsCompleted);
        bench.Pass(0.1);
        Assert.Equal(FreshRead.Silent, SessionBench.Done(reading));
    }

    [Fact]
    public void A_desk_that_answers_the_slow_round_is_known_to_answer_until_it_was_away()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(30f)));
        bench.Pass(5);
        Assert.False(bench.Session.AnswersWhenAsked(ProposalKind.Trim));
        bench.Play(17);
        Assert.True(bench.Session.AnswersWhenAsked(ProposalKind.Trim));
        Assert.False(bench.Session.AnswersWhenAsked(ProposalKind.Mute));
        bench.Session.Connected(again: true);
        Assert.False(bench.Session.AnswersWhenAsked(ProposalKind.Trim));
    }

    [Fact]
    public void A_desk_that_tells_its_values_by_itself_is_not_taken_for_one_that_answers()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        for (var second = 0; second < 60; second++)
        {
            bench.Play(1);
            bench.Say("/t/1/gain", OscArgument.Of(30f + (second % 3)));
            bench.Say($"/t/{2 + (second % 3)}/gain", OscArgument.Of(31f));
        }

        Assert.False(bench.Session.AnswersWhenAsked(ProposalKind.Trim));
    }

    [Fact]
    public void An_answer_that_makes_no_sense_is_asked_for_again_a_few_times_and_then_once_in_a_slow_round()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of("loud")));
        bench.Pass(20);
        // Four times each, and one of the four each second.
        Assert.All(Enumerable.Range(1, 4), input => Assert.InRange(bench.Desk.HeardAt($"/t/{input}/gain").Count, 6, 9));
        Assert.InRange(bench.Session.Counters.Malformed, 24, 36);
        Assert.Null(bench.Session.Settings(1).Trim);
    }

    [Fact]
    public void An_answered_question_is_not_asked_again()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(20f)));
        bench.Pass(4);
        Assert.All(Enumerable.Range(1, 4), input => Assert.InRange(bench.Desk.HeardAt($"/t/{input}/gain").Count, 1, 2));
    }

    [Fact]
    public void Sources_that_flap_do_not_make_a_storm_of_questions()
    {
        const string OfSockets = """
            [controls.trim]
            address = "/s/{socket}/gain"
            unit = "db"
            range_db = [0.0, 60.0]
            [controls.pad]
            address = "/s/{socket}/pad"
            on = 1
            off = 0
            [controls.mute]
            address = "/s/{socket}/shut"
            on = 1
            off = 0
            [controls.phantom]
            address = "/s/{socket}/power"
            """;
        using var bench = new SessionBench(LinkProfiles.Peaks, OfSockets, LinkProfiles.Source);
        var plug = 0;
        for (var turn = 0; turn < 400; turn++)
        {
            plug++;
            for (var input = 1; input <= 4; input++)
                bench.Desk.Say(new OscMessage($"/t/{input}/plug", OscArgument.Of((plug % 2) + (10 * input))));
            bench.Pass(0.005);
        }

        // Four seconds by the clock of the test: 400 questions a second and a handful at once, never one for each time that a source flapped.
        Assert.InRange(bench.Desk.Heard.Count, 100, (4 * 400) + 100);
    }

    [Fact]
    public void While_live_every_value_is_asked_for_again_in_a_slow_round()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Mute);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, message.Address.EndsWith("shut", StringComparison.Ordinal) ? OscArgument.Of(0) : OscArgument.Of(20f)));
        bench.Play(6);
        bench.Desk.Heard.Clear();
        bench.Play(5.5);
        Assert.Equal(8, bench.Desk.Heard.Select(message => message.Address).Distinct().Count());
        Assert.InRange(bench.Desk.Heard.Count, 8, 11);
    }

    [Fact]
    public void A_desk_that_sends_no_meters_is_asked_a_question_a_second_so_that_it_shows_whether_it_answers()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(30f)));
        bench.Play(1);
        bench.Pass(1);
        bench.Desk.Heard.Clear();
        bench.Pass(10);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        Assert.Contains("answers", bench.Session.LinkReason, StringComparison.Ordinal);
        Assert.InRange(bench.Desk.Heard.Count, 7, 10);
        bench.Desk.Answer = static _ => { };
        bench.Pass(6);
        Assert.Contains("silent", bench.Session.LinkReason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_desk_that_was_away_is_asked_everything_again_and_what_moved_shows()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        var gain = 20f;
        bench.Desk.Answer = message => bench.Desk.Say(new OscMessage(message.Address, OscArgument.Of(gain)));
        bench.Play(2);
        bench.Pass(6);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        gain = 0;
        bench.Play(0.5);
        Assert.Equal(0, bench.Session.Settings(1).Trim!.Value.Value);
        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.Restart));
    }

    [Fact]
    public void What_a_desk_said_before_it_was_away_is_not_current_until_it_says_it_again()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim + "\nquery = \"none\"");
        bench.Play(2);
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        Assert.True(bench.Session.IsCurrent([1], ProposalKind.Trim));
        Assert.False(bench.Session.IsCurrent([1, 2], ProposalKind.Trim));

        bench.Pass(6);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        bench.Play(0.5);

        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.False(bench.Session.IsCurrent([1], ProposalKind.Trim));
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        Assert.True(bench.Session.IsCurrent([1], ProposalKind.Trim));
    }

    [Fact]
    public void What_a_desk_tells_once_it_is_on_again_is_current_though_its_meters_begin_later()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim + "\nquery = \"none\"");
        bench.Play(2);
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        bench.Pass(6);
        Assert.Equal(LinkState.Lost, bench.Session.Link);

        bench.Say("/t/1/gain", OscArgument.Of(6f));
        bench.Pass(0.7);
        bench.Play(0.5);

        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.True(bench.Session.IsCurrent([1], ProposalKind.Trim));
    }

    [Fact]
    public void Where_words_go_on_without_meters_only_what_was_told_since_the_loss_is_current()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim + "\nquery = \"none\"");
        bench.Play(2);
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        bench.Pass(4);
        bench.Say("/t/2/gain", OscArgument.Of(20f));
        bench.Pass(2);
        Assert.Equal(LinkState.Lost, bench.Session.Link);
        bench.Say("/t/3/gain", OscArgument.Of(20f));
        bench.Play(0.5);

        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.False(bench.Session.IsCurrent([1], ProposalKind.Trim));
        Assert.False(bench.Session.IsCurrent([2], ProposalKind.Trim));
        Assert.True(bench.Session.IsCurrent([3], ProposalKind.Trim));
    }

    [Fact]
    public void Of_a_desk_that_can_be_asked_only_what_it_told_since_its_meters_are_back_is_current()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        bench.Play(2);
        bench.Pass(6);
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        bench.Pass(0.7);
        bench.Play(0.5);

        Assert.Equal(LinkState.Live, bench.Session.Link);
        Assert.False(bench.Session.IsCurrent([1], ProposalKind.Trim));
        bench.Say("/t/1/gain", OscArgument.Of(20f));
        Assert.True(bench.Session.IsCurrent([1], ProposalKind.Trim));
    }

    [Fact]
    public void A_knob_turned_by_hand_is_taken_in_at_once_and_unasked()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim + "\nquery = \"none\"");
        bench.Say("/t/4/gain", OscArgument.Of(12f));
        bench.Sink.Settings.Clear();
        bench.Say("/t/4/gain", OscArgument.Of(14.5f));
        Assert.Equal(14.5, Assert.Single(bench.Sink.Settings).Trim!.Value.Value);
    }

    [Fact]
    public void Many_values_within_a_second_are_one_scene_recall()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim, LinkProfiles.Mute);
        foreach (var gain in new[] { 20f, 30f })
        {
            for (var input = 1; input <= 4; input++)
            {
                bench.Say($"/t/{input}/gain", OscArgument.Of(gain));
                bench.Say($"/t/{input}/shut", OscArgument.Of(gain > 25 ? 1 : 0));
            }
        }

        Assert.Equal(1, bench.Sink.Count(DeskNoteKind.SceneRecall));
    }

    [Fact]
    public void One_knob_turned_fast_is_no_scene_recall()
    {
        using var bench = new SessionBench(LinkProfiles.Peaks, LinkProfiles.Trim);
        for (var step = 0; step < 40; step++)
            bench.Say("/t/1/gain", OscArgument.Of(10f + step));
        Assert.Equal(0, bench.Sink.Count(DeskNoteKind.SceneRecall));
    }
}
