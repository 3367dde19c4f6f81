using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Tests.Desks.Profiles;
using Xunit;

namespace TrimAssist.Service.Tests.Desks.Link;

public sealed class WriterTests
{
    private static readonly string ByQuery = ProfileTexts.Full.Replace("verify = \"echo\"", "verify = \"query\"", StringComparison.Ordinal);
    private static readonly string Mutest = ProfileTexts.Full.Replace("query = \"bare\"", "query = \"none\"", StringComparison.Ordinal);

    [Fact]
    public void A_change_that_the_desk_echoes_is_applied_and_was_sent_once()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.WhenSent = Echo(bench, m => m.Arguments[0]);
        var outcome = Apply(bench, Bench.Trim(10, 14, 1), 0.2);

        Assert.Equal((WriteResult.Applied, 14.0), (outcome.Result, outcome.ReadBack!.Value.Db!.Value));
        Assert.Equal(new OscMessage("/in/1/trim", OscArgument.Of(14f)), Assert.Single(bench.Sent, m => m.Arguments.Count > 0 && m.Address.EndsWith("trim", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_silent_desk_makes_it_unknown_after_three_seconds_and_was_asked_before()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        var applying = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1), CancellationToken.None);
        bench.Pass(2.95);
        Assert.False(applying.IsCompleted);
        bench.Pass(0.2);

        Assert.Equal(WriteResult.Unknown, bench.Done(applying).Result);
        Assert.Equal(1, bench.CountSent("/in/1/trim", withValue: true));
        Assert.InRange(bench.CountSent("/in/1/trim", withValue: false), 3, 8);
    }

    [Fact]
    public void A_desk_that_does_not_echo_but_answers_is_applied()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        var at = 10f;
        bench.WhenSent = m =>
        {
            if (m.Address is not "/in/1/trim")
                return;
            if (m.Arguments.Count > 0)
                at = (float)m.Arguments[0].Number!.Value;
            else
                bench.Tell(m.Address, OscArgument.Of(at));
        };

        Assert.Equal(WriteResult.Applied, Apply(bench, Bench.Trim(10, 14, 1), 1).Result);
    }

    [Fact]
    public void A_desk_that_ignores_the_change_makes_it_failed_without_a_storm_of_questions()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.WhenSent = m =>
        {
            if (m is { Address: "/in/1/trim", Arguments.Count: 0 })
                bench.Tell(m.Address, OscArgument.Of(10f));
        };
        var outcome = Apply(bench, Bench.Trim(10, 14, 1), 3.1);

        Assert.Equal((WriteResult.Failed, 10.0), (outcome.Result, outcome.ReadBack!.Value.Db!.Value));
        Assert.Equal(1, bench.CountSent("/in/1/trim", withValue: true));
        Assert.InRange(bench.CountSent("/in/1/trim", withValue: false), 1, 8);
    }

    [Fact]
    public void A_desk_that_takes_another_value_makes_it_failed()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.WhenSent = Echo(bench, _ => OscArgument.Of(12f));

        Assert.Equal((WriteResult.Failed, 12.0), Outcome(Apply(bench, Bench.Trim(10, 14, 1), 3.1)));
    }

    [Theory]
    [InlineData(13.7, WriteResult.Applied)]
    [InlineData(13.5, WriteResult.Failed)]
    public void The_tolerance_decides_what_counts_as_taken(double told, WriteResult result)
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.WhenSent = Echo(bench, _ => OscArgument.Of((float)told));

        Assert.Equal(result, Apply(bench, Bench.Trim(10, 14, 1), 3.1).Result);
    }

    [Fact]
    public void An_old_answer_that_comes_first_does_not_spoil_it()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        var applying = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1), CancellationToken.None);
        bench.Tell("/in/1/trim", OscArgument.Of(10f));
        bench.Pass(0.3);
        bench.Tell("/in/1/trim", OscArgument.Of(14f));

        Assert.Equal(WriteResult.Applied, bench.Done(applying).Result);
    }

    [Fact]
    public void An_answer_just_before_three_seconds_still_counts()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        var applying = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1), CancellationToken.None);
        bench.Pass(2.9);
        bench.Tell("/in/1/trim", OscArgument.Of(14f));

        Assert.Equal(WriteResult.Applied, bench.Done(applying).Result);
    }

    [Fact]
    public void Where_echoes_are_not_trusted_only_an_answer_counts()
    {
        var bench = Known(ByQuery, 10, 1);
        bench.WhenSent = m =>
        {
            if (m.Address is "/in/1/trim")
                bench.Tell(m.Address, m.Arguments.Count > 0 ? m.Arguments[0] : OscArgument.Of(10f));
        };

        Assert.Equal((WriteResult.Failed, 10.0), Outcome(Apply(bench, Bench.Trim(10, 14, 1), 3.1)));
    }

    [Fact]
    public void Where_echoes_are_not_trusted_a_good_answer_applies_at_once()
    {
        var bench = Known(ByQuery, 10, 1);
        bench.WhenSent = m =>
        {
            if (m is { Address: "/in/1/trim", Arguments.Count: 0 })
                bench.Tell(m.Address, OscArgument.Of(14f));
        };

        Assert.Equal(WriteResult.Applied, Apply(bench, Bench.Trim(10, 14, 1), 0.2).Result);
    }

    [Fact]
    public void A_desk_that_cannot_be_asked_is_not_asked()
    {
        var bench = Known(Mutest, 10, 1);
        var outcome = Apply(bench, Bench.Trim(10, 14, 1), 3.2);

        Assert.Equal(WriteResult.Unknown, outcome.Result);
        Assert.Equal(0, bench.CountSent("/in/1/trim", withValue: false));
    }

    [Fact]
    public void Both_halves_of_a_pair_are_sent_once_and_both_are_read_back()
    {
        var bench = Known(ProfileTexts.Full, 10, 1, 2);
        var applying = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1, 2), CancellationToken.None);
        bench.Tell("/in/1/trim", OscArgument.Of(14f));
        bench.Pass(0.1);
        Assert.False(applying.IsCompleted);
        bench.Tell("/in/2/trim", OscArgument.Of(14f));

        Assert.Equal(WriteResult.Applied, bench.Done(applying).Result);
        Assert.Equal((1, 1), (bench.CountSent("/in/1/trim", true), bench.CountSent("/in/2/trim", true)));
    }

    [Fact]
    public void Two_inputs_on_one_socket_are_sent_to_once()
    {
        var bench = new Bench(ProfileTexts.Full.Replace("/in/{input}/trim", "/pre/{socket}/gain", StringComparison.Ordinal)).Live();
        bench.Tell("/in/1/from", OscArgument.Of(5));
        bench.Tell("/in/2/from", OscArgument.Of(5));
        bench.Tell("/pre/5/gain", OscArgument.Of(10f));
        var applying = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1, 2), CancellationToken.None);
        bench.Tell("/pre/5/gain", OscArgument.Of(14f));

        Assert.Equal(WriteResult.Applied, bench.Done(applying).Result);
        Assert.Equal(1, bench.CountSent("/pre/5/gain", withValue: true));
    }

    [Fact]
    public void A_value_that_moved_is_not_written_over()
    {
        var bench = Known(ProfileTexts.Full, 10, 1, 2);
        bench.Tell("/in/2/trim", OscArgument.Of(11f));

        NothingIsSent(bench, Bench.Trim(10, 14, 1, 2));
    }

    [Fact]
    public void A_value_that_is_not_known_is_not_written_over() => NothingIsSent(Known(ProfileTexts.Full, 10, 1), Bench.Trim(10, 14, 3));

    [Fact]
    public void Nothing_is_sent_to_a_desk_that_is_not_live()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.Pass(0.7, meters: false);

        NothingIsSent(bench, Bench.Trim(10, 14, 1));
    }

    [Theory]
    [InlineData(54.2)]
    [InlineData(-0.2)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Nothing_is_sent_outside_the_range(double to) => NothingIsSent(Known(ProfileTexts.Full, 10, 1), Bench.Trim(10, to, 1));

    [Fact]
    public void Nothing_is_sent_for_another_desk() =>
        NothingIsSent(Known(ProfileTexts.Full, 10, 1), Bench.Permit(Guid.NewGuid(), "other", [1], ProposalKind.Trim, SettingValue.Gain(10), SettingValue.Gain(14)));

    [Fact]
    public void Nothing_is_sent_where_the_profile_does_not_spell_the_control_out()
    {
        var bench = Known(ProfileTexts.Full.Replace("range_db = [0.0, 54.0]\n", string.Empty, StringComparison.Ordinal), 10, 1);

        NothingIsSent(bench, Bench.Trim(10, 14, 1));
    }

    [Fact]
    public void Nothing_is_sent_once_the_service_is_stopping()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.Sent.Clear();
        var outcome = bench.Done(bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1), new CancellationToken(canceled: true)));

        Assert.Equal((WriteResult.NotSent, 0), (outcome.Result, bench.Sent.Count));
    }

    [Fact]
    public void A_network_that_refuses_leaves_it_not_sent()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        bench.NetworkIsDown = true;

        NothingIsSent(bench, Bench.Trim(10, 14, 1));
    }

    [Fact]
    public void A_second_change_of_the_same_control_waits_for_no_answer_it_is_refused()
    {
        var bench = Known(ProfileTexts.Full, 10, 1);
        var first = bench.Writer.ApplyAsync(Bench.Trim(10, 14, 1), CancellationToken.None);

        Assert.Equal(WriteResult.NotSent, bench.Done(bench.Writer.ApplyAsync(Bench.Trim(10, 20, 1), CancellationToken.None)).Result);
        bench.Tell("/in/1/trim", OscArgument.Of(14f));
        Assert.Equal(WriteResult.Applied, bench.Done(first).Result);
        Assert.Equal(1, bench.CountSent("/in/1/trim", withValue: true));
    }

    [Fact]
    public void Our_own_changes_are_no_scene_recall()
    {
        var bench = Known(ProfileTexts.Full, 10, [.. Enumerable.Range(1, 24)]);
        bench.WhenSent = Echo(bench, m => m.Arguments[0]);
        for (var input = 1; input <= 24; input++)
            Assert.Equal(WriteResult.Applied, bench.Done(bench.Writer.ApplyAsync(Bench.Trim(10, 14, input), CancellationToken.None)).Result);

        Assert.Empty(bench.Notes);
    }

    [Theory]
    [InlineData("unit = \"db\"\nvalue_type = \"int\"", 14, "i", 14)]
    [InlineData("unit = \"db\"\nvalue_type = \"double\"", 14, "d", 14)]
    [InlineData("unit = \"fraction\"\nvalue_type = \"float\"", 13.5, "f", 0.25)]
    [InlineData("unit = \"fraction\"\nrange = [0, 1000]\nvalue_type = \"int\"", 13.5, "i", 250)]
    [InlineData("curve = [[0.0, 0.0], [0.5, 10.0], [1.0, 54.0]]\nvalue_type = \"float\"", 5, "f", 0.25)]
    [InlineData("unit = \"db\"\nvalue_type = \"string\"", 14.5, "s", 14.5)]
    public void A_trim_travels_in_the_profiles_unit_and_type(string form, double to, string tag, double wire)
    {
        var profile = ProfileTexts.Full.Replace("unit = \"db\"\nvalue_type = \"float\"", form, StringComparison.Ordinal).Replace("step_db = 1.0", "step_db = 0.5", StringComparison.Ordinal);
        var bench = new Bench(profile).Live();
        bench.Tell("/in/1/trim", OscArgument.Of(0f));
        bench.WhenSent = Echo(bench, m => m.Arguments[0]);
        var outcome = Apply(bench, Bench.Trim(0, to, 1), 0.2);

        Assert.Equal(WriteResult.Applied, outcome.Result);
        var sent = bench.Sent.Single(m => m.Address is "/in/1/trim" && m.Arguments.Count > 0).Arguments[0];
        Assert.Equal((tag[0], wire), ((char)sent.Tag, sent.Number ?? double.Parse(sent.Text!, System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Theory]
    [InlineData("on = 1\noff = 0", true, "i", 1)]
    [InlineData("on = 0\noff = 1", true, "i", 0)]
    [InlineData("on = 0.0\noff = 1.0", false, "f", 1)]
    [InlineData("on = true\noff = false", true, "T", 1)]
    [InlineData("on = true\noff = false", false, "F", 0)]
    public void A_mute_travels_as_the_profile_writes_it(string positions, bool mute, string tag, double wire)
    {
        var bench = new Bench(ProfileTexts.Full.Replace("address = \"/in/{input}/cut\"\non = 1\noff = 0", $"address = \"/in/{{input}}/cut\"\n{positions}", StringComparison.Ordinal)).Live();
        var control = bench.Session;
        foreach (var told in new[] { OscArgument.Of(0), OscArgument.Of(1) })
        {
            bench.Tell("/in/1/cut", told);
            if (control.Settings(1).Muted == !mute)
                break;
        }

        bench.WhenSent = Echo(bench, m => m.Arguments[0]);
        var change = Bench.Permit(Guid.NewGuid(), "demo", [1], mute ? ProposalKind.Mute : ProposalKind.Unmute, SettingValue.Switch(!mute), SettingValue.Switch(mute));
        Assert.Equal(WriteResult.Applied, Apply(bench, change, 0.2).Result);
        var sent = bench.Sent.Single(m => m.Address is "/in/1/cut" && m.Arguments.Count > 0).Arguments[0];
        Assert.Equal((tag[0], wire), ((char)sent.Tag, sent.Number!.Value));
    }

    private static void NothingIsSent(Bench bench, ConfirmedChange change)
    {
        bench.Sent.Clear();
        var outcome = bench.Done(bench.Writer.ApplyAsync(change, CancellationToken.None));

        Assert.Equal(WriteResult.NotSent, outcome.Result);
        Assert.Empty(bench.Sent);
    }

    private static (WriteResult Result, double? Db) Outcome(WriteOutcome outcome) => (outcome.Result, outcome.ReadBack?.Db);

    private static WriteOutcome Apply(Bench bench, ConfirmedChange change, double seconds)
    {
        var applying = bench.Writer.ApplyAsync(change, CancellationToken.None);
        bench.RunPosted();
        bench.Pass(seconds);
        return bench.Done(applying);
    }

    private static Action<OscMessage> Echo(Bench bench, Func<OscMessage, OscArgument> answer) => m =>
    {
        if (m.Arguments.Count > 0 && m.Address.StartsWith("/in/", StringComparison.Ordinal))
            bench.Tell(m.Address, answer(m));
    };

    private static Bench Known(string profile, float trim, params int[] inputs)
    {
        var bench = new Bench(profile).Live();
        bench.Pass(0.1);
        foreach (var input in inputs)
            bench.Tell($"/in/{input}/trim", OscArgument.Of(trim));
        bench.Pass(4);
        foreach (var input in inputs)
            bench.Tell($"/in/{input}/trim", OscArgument.Of(trim));
        bench.Sent.Clear();
        return bench;
    }
}
