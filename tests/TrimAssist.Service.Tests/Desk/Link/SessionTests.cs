using CsCheck;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Desk.Link;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class SessionTests
{
    [Fact]
    public void The_link_is_live_stale_and_lost_by_its_meters()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        Assert.Equal([LinkState.Live], bench.Links);
        bench.Pass(0.4, meters: false);
        Assert.Equal(LinkState.Live, bench.Session.Link);
        bench.Pass(0.2, meters: false);
        Assert.Equal(LinkState.Stale, bench.Session.Link);
        bench.Pass(4.3, meters: false);
        Assert.Equal(LinkState.Stale, bench.Session.Link);
        bench.Pass(0.3, meters: false);
        Assert.Equal([LinkState.Live, LinkState.Stale, LinkState.Lost], bench.Links);
    }

    [Fact]
    public void A_desk_that_says_nothing_stays_connecting()
    {
        var bench = new Bench(ProfileTexts.Full);
        bench.Session.Start();
        bench.Pass(20, meters: false);

        Assert.Equal(LinkState.Connecting, bench.Session.Link);
        Assert.NotEmpty(bench.Session.LinkReason);
    }

    [Fact]
    public void Subscriptions_go_out_at_the_start_and_are_renewed_in_time()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        Assert.Equal(1, bench.CountSent("/hello", withValue: true));
        Assert.Equal([OscArgument.Of("meters"), OscArgument.Of(50)], bench.Sent[0].Arguments);

        bench.Pass(4.9);
        Assert.Equal(1, bench.CountSent("/hello", withValue: true));
        bench.Pass(0.2);
        Assert.Equal(2, bench.CountSent("/hello", withValue: true));
        bench.Pass(20);
        Assert.Equal(6, bench.CountSent("/hello", withValue: true));
    }

    [Fact]
    public void A_desk_that_fell_silent_is_knocked_at_every_second()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        bench.Pass(1, meters: false);
        var before = bench.CountSent("/hello", withValue: true);
        bench.Pass(5, meters: false);

        Assert.InRange(bench.CountSent("/hello", withValue: true) - before, 4, 6);
    }

    [Fact]
    public void Every_value_is_asked_for_at_the_start_until_it_is_answered()
    {
        var bench = new Bench(ProfileTexts.Full);
        var silent = 0;
        bench.WhenSent = m =>
        {
            if (m.Arguments.Count == 0 && !(m.Address.StartsWith("/in/9/", StringComparison.Ordinal) && silent++ < 6))
                bench.Tell(m.Address, OscArgument.Of(1));
        };
        bench.Live();
        bench.Pass(4);

        Assert.All(Enumerable.Range(1, 24), input =>
        {
            var settings = bench.Session.Settings(input);
            Assert.True(settings is { Trim: not null, PadOn: true, Muted: true, Socket: "1", Label: "1" }, $"input {input} is not known");
        });
    }

    [Fact]
    public void Questions_never_come_in_a_flood()
    {
        var bench = new Bench(ProfileTexts.Full.Replace("inputs = 24", "inputs = 1024", StringComparison.Ordinal).Replace("count = 24\n", string.Empty, StringComparison.Ordinal)).Live();
        var most = 0;
        for (var tick = 0; tick < 1000; tick++)
        {
            var before = bench.Sent.Count;
            bench.Pass(0.01);
            most = Math.Max(most, bench.Sent.Count - before);
        }

        Assert.InRange(most, 1, 30);
    }

    [Fact]
    public void A_knob_turned_by_hand_is_taken_in_at_once()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        bench.Tell("/in/3/trim", OscArgument.Of(20f));
        bench.Tell("/in/3/trim", OscArgument.Of(20f));
        bench.Tell("/in/3/trim", OscArgument.Of(23f));

        Assert.Equal([(null, 20.0), (20.0, 23.0)], bench.Settings.Select(s => (s.Before.Trim?.Value, s.Now.Trim!.Value.Value)));
    }

    [Fact]
    public void A_hand_on_the_knobs_is_no_scene_recall_and_neither_is_a_mute_group()
    {
        var bench = Known();
        for (var turn = 0; turn < 40; turn++)
            bench.Tell("/in/3/trim", OscArgument.Of(10f + turn));
        for (var input = 1; input <= 24; input++)
            bench.Tell($"/in/{input}/cut", OscArgument.Of(1));

        Assert.Empty(bench.Notes);
    }

    [Fact]
    public void Many_values_within_a_second_are_one_scene_recall()
    {
        var bench = Known();
        bench.Pass(2);
        for (var input = 1; input <= 24; input++)
        {
            bench.Tell($"/in/{input}/trim", OscArgument.Of(33f));
            bench.Tell($"/in/{input}/cut", OscArgument.Of(1));
        }

        Assert.Equal(DeskNoteKind.SceneRecall, Assert.Single(bench.Notes).Kind);
        bench.Pass(2);
        for (var input = 1; input <= 24; input++)
            bench.Tell($"/in/{input}/trim", OscArgument.Of(44f));
        Assert.Equal(2, bench.Notes.Count);
    }

    [Fact]
    public void First_words_of_the_desk_are_no_scene_recall()
    {
        var bench = Known();

        Assert.Empty(bench.Notes);
    }

    [Fact]
    public void A_desk_that_was_away_is_asked_for_everything_again()
    {
        var bench = Known();
        bench.Pass(6, meters: false);
        bench.Sent.Clear();
        bench.Pass(0.5);

        Assert.Equal(DeskNoteKind.Restart, Assert.Single(bench.Notes).Kind);
        Assert.All(Enumerable.Range(1, 24), input => Assert.True(bench.CountSent($"/in/{input}/trim", withValue: false) > 0));
    }

    [Fact]
    public void What_comes_from_elsewhere_is_counted_and_dropped()
    {
        var bench = new Bench(ProfileTexts.Full);
        bench.Session.Start();
        for (var i = 0; i < 1000; i++)
        {
            bench.TellFrom(Bench.Stranger, "/lv/1", OscArgument.Of(-3f));
            bench.TellFrom(Bench.Stranger, "/in/1/trim", OscArgument.Of(50f));
        }

        bench.Session.Tick();
        Assert.Equal((2000, 0), (bench.Session.Counters.Dropped, bench.Session.Counters.Received));
        Assert.Empty(bench.Settings);
        Assert.Empty(bench.Links);
        Assert.Contains("192.0.2.66", Assert.Single(bench.Notes).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_engine_takes_over_once_the_first_is_silent_and_everything_is_asked_again()
    {
        var bench = Known();
        bench.TellFrom(Bench.Backup, "/lv/1", OscArgument.Of(-77f));
        Assert.DoesNotContain(bench.Readings, r => r.PeakDbfs == -77f);

        bench.Pass(1, meters: false);
        bench.Sent.Clear();
        bench.TellFrom(Bench.Backup, "/lv/1", OscArgument.Of(-78f));
        bench.TellFrom(Bench.Desk, "/in/1/trim", OscArgument.Of(50f));
        Assert.Equal(Bench.Backup.Address, bench.RedirectedTo);
        Assert.Null(bench.Session.Settings(1).Trim);
        Assert.Contains(bench.Notes, n => n.Kind == DeskNoteKind.Takeover);

        bench.Session.Tick();
        Assert.True(bench.Sent.Count > 1);
        bench.TellFrom(Bench.Backup, "/in/1/trim", OscArgument.Of(7f));
        Assert.Equal(7, bench.Session.Settings(1).Trim!.Value.Value);
    }

    [Fact]
    public void An_input_on_another_socket_loses_what_belonged_to_the_old_one()
    {
        var bench = new Bench(ProfileTexts.Full.Replace("/in/{input}/trim", "/pre/{socket}/gain", StringComparison.Ordinal)).Live();
        bench.Tell("/in/1/from", OscArgument.Of(5));
        bench.Tell("/in/2/from", OscArgument.Of(5));
        bench.Tell("/pre/5/gain", OscArgument.Of(30f));
        Assert.Equal((30.0, 30.0), (bench.Session.Settings(1).Trim!.Value.Value, bench.Session.Settings(2).Trim!.Value.Value));

        bench.Sent.Clear();
        bench.Tell("/in/1/from", OscArgument.Of("B 7"));
        Assert.Null(bench.Session.Settings(1).Trim);
        bench.Tell("/in/1/from", OscArgument.Of(6));
        bench.Pass(0.1);
        Assert.True(bench.CountSent("/pre/6/gain", withValue: false) > 0);
        Assert.Equal(30, bench.Session.Settings(2).Trim!.Value.Value);
    }

    [Theory]
    [InlineData("on = 0\noff = 1", 0, true)]
    [InlineData("on = 0\noff = 1", 1, false)]
    [InlineData("on = 1\noff = 0", 1, true)]
    [InlineData("on = 1\noff = 0", 7, null)]
    [InlineData("on = 1.0\noff = 0.0", 1, true)]
    [InlineData("on = true\noff = false", 1, true)]
    public void Flags_mean_what_the_profile_says(string positions, int told, bool? muted)
    {
        var bench = new Bench(ProfileTexts.Least + $"[controls.mute]\naddress = \"/m/{{input}}\"\n{positions}\n").Live();
        bench.Tell("/m/2", OscArgument.Of(told));

        Assert.Equal(muted, bench.Session.Settings(2).Muted);
    }

    [Fact]
    public void An_answer_by_argument_finds_its_input()
    {
        var bench = new Bench(ProfileTexts.Least + """
            [controls.trim]
            address = "/set"
            arguments = ["gain", "{input}", "{value}"]
            unit = "fraction"
            range_db = [0.0, 60.0]
            query = { address = "/get", arguments = ["/in/{input:00}/gain"] }
            reply_address = "/told"
            reply_argument = 1
            """).Live();
        bench.Pass(0.1);
        Assert.Contains(bench.Sent, m => m == new OscMessage("/get", OscArgument.Of("/in/03/gain")));

        bench.Tell("/told", OscArgument.Of("/in/03/gain"), OscArgument.Of(0.5f));
        bench.Tell("/told", OscArgument.Of("/in/03/other"), OscArgument.Of(0.9f));
        Assert.Equal([null, null, 30.0, null], Enumerable.Range(1, 4).Select(i => bench.Session.Settings(i).Trim?.Value));
    }

    [Fact]
    public void Pairs_are_known_from_either_half()
    {
        var bench = new Bench(ProfileTexts.Least + "[controls.link]\naddress = \"/pair/{input}\"\n").Live();
        bench.Tell("/pair/2", OscArgument.Of(3));
        Assert.Equal([null, 3, 2, null], Enumerable.Range(1, 4).Select(i => bench.Session.Settings(i).LinkedTo));
        bench.Tell("/pair/3", OscArgument.Of(0));
        Assert.All(Enumerable.Range(1, 4), i => Assert.Null(bench.Session.Settings(i).LinkedTo));
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(float.NegativeInfinity)]
    public void What_is_no_number_never_becomes_a_trim(float value)
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        bench.Tell("/in/1/trim", OscArgument.Of(value));

        Assert.Null(bench.Session.Settings(1).Trim);
        Assert.Equal(1, bench.Session.Counters.Malformed);
    }

    [Fact]
    public void A_label_without_end_is_refused_and_one_with_control_characters_cleaned()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        bench.Tell("/in/1/label", OscArgument.Of(new string('x', 5000)));
        bench.Tell("/in/2/label", OscArgument.Of("Snare\u001b[2J"));

        Assert.Null(bench.Session.Settings(1).Label);
        Assert.Equal("Snare[2J", bench.Session.Settings(2).Label);
    }

    [Fact]
    public void A_fresh_read_asks_again_until_the_desk_answers()
    {
        var bench = Known();
        bench.Pass(6);
        bench.Sent.Clear();
        var reading = bench.Session.ReadAsync([3], ProposalKind.Trim, TimeSpan.FromSeconds(1));
        Assert.Equal(1, bench.CountSent("/in/3/trim", withValue: false));
        bench.Pass(0.2);
        Assert.Equal(2, bench.CountSent("/in/3/trim", withValue: false));
        Assert.False(reading.IsCompleted);

        bench.Tell("/in/3/trim", OscArgument.Of(12f));
        bench.Tell("/in/3/from", OscArgument.Of(3));
        Assert.True(bench.Done(reading));
    }

    [Fact]
    public void A_fresh_read_without_answer_ends_in_time()
    {
        var bench = Known();
        var reading = bench.Session.ReadAsync([3], ProposalKind.Trim, TimeSpan.FromSeconds(0.6));
        bench.Pass(0.65);

        Assert.False(bench.Done(reading));
    }

    [Fact]
    public void Any_bytes_are_counted_or_heard_but_never_throw()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        Gen.Byte.Array[0, 200].Sample(bytes =>
        {
            bench.TellBytes(bytes);
            return true;
        }, iter: 2000, threads: 1);
        var good = new OscMessage("/in/1/trim", OscArgument.Of(20f)).Encode();
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte, Gen.Int[0, good.Length]).Sample((at, value, length) =>
        {
            var mutated = good.ToArray();
            mutated[at] = value;
            bench.TellBytes(mutated[..length]);
            return true;
        }, iter: 2000, threads: 1);

        var counters = bench.Session.Counters;
        Assert.True(counters.Malformed > 2000, $"{counters}");
        Assert.True(bench.Notes.Count < 5);
        bench.Tell("/lv/1", OscArgument.Of(-44f));
        bench.Session.Tick();
        Assert.Equal(LinkState.Live, bench.Session.Link);
    }

    [Fact]
    public void A_control_that_cannot_be_asked_for_is_never_read_afresh()
    {
        var bench = new Bench(ProfileTexts.Full.Replace("query = \"bare\"", "query = \"none\"", StringComparison.Ordinal)).Live();
        var reading = bench.Session.ReadAsync([3], ProposalKind.Trim, TimeSpan.FromSeconds(0.6));
        bench.Tell("/in/3/from", OscArgument.Of(3));

        Assert.False(bench.Done(reading));
    }

    private static Bench Known()
    {
        var bench = new Bench(ProfileTexts.Full).Live();
        for (var input = 1; input <= 24; input++)
        {
            bench.Tell($"/in/{input}/trim", OscArgument.Of(10f));
            bench.Tell($"/in/{input}/cut", OscArgument.Of(0));
            bench.Tell($"/in/{input}/pad", OscArgument.Of(0));
            bench.Tell($"/in/{input}/from", OscArgument.Of(input));
        }

        return bench;
    }
}
