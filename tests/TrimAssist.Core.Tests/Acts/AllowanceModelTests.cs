using CsCheck;
using TrimAssist.Core.Acts;
using Xunit;

namespace TrimAssist.Core.Tests.Acts;

/// <summary>What is learned of players, held against the whole normal distribution written out, and against players whose truth is known.</summary>
public sealed class AllowanceModelTests
{
    private static readonly DateTimeOffset Now = new(2026, 7, 25, 18, 0, 0, TimeSpan.Zero);

    // The variances of docs/allowance.md.
    private const double All = 1.5 * 1.5;
    private const double Kinds = 1.5 * 1.5;
    private const double Players = 2 * 2;
    private const double Shows = 2.113 * 2.113;

    [Fact]
    public void Before_anything_was_heard_it_is_common_practice_with_its_usual_spread()
    {
        var allowance = new AllowanceModel([], Now).For("ANYBODY", "voice");

        Assert.Equal(4, allowance.Db, 9);
        Assert.Equal(3.6, allowance.SpreadDb, 2);
        Assert.False(allowance.Learned);
        Assert.Equal("+4.0 dB, common practice: no show has been heard yet", allowance.Basis);
    }

    // With one player and n equal shows the tree is a line: the shows' mean and the prior, each by its precision.
    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(30)]
    public void One_players_shows_pull_away_from_common_practice_by_their_precision(int shows)
    {
        var model = new AllowanceModel(Enumerable.Repeat(new HeldBack("ANNA", "voice", 10, false, Now), shows), Now);

        var prior = 1 / (All + Kinds + Players);
        var data = shows / Shows;
        Assert.Equal(((prior * 4) + (data * 10)) / (prior + data), model.For("ANNA", "voice").Db, 9);
        Assert.Equal(Math.Sqrt((1 / (prior + data)) + Shows), model.For("ANNA", "voice").SpreadDb, 9);
    }

    [Fact]
    public void The_answer_is_that_of_the_whole_normal_distribution_written_out()
    {
        var show = Gen.Select(Gen.Int[0, 2], Gen.Int[0, 3], Gen.Double[-5, 15], Gen.Int[0, 500])
            .Select((kind, player, db, days) => new HeldBack($"P{player}", $"K{kind}", db, false, Now - TimeSpan.FromDays(days)));
        Gen.Select(show.List[0, 12], Gen.Int[0, 3], Gen.Int[0, 4]).Sample((shows, kind, player) =>
        {
            var (mean, variance) = WrittenOut(shows, $"K{kind}", $"P{player}");
            var answer = new AllowanceModel(shows, Now).For($"P{player}", $"K{kind}");
            Assert.Equal(mean, answer.Db, 6);
            Assert.Equal(Math.Sqrt(variance + Shows), answer.SpreadDb, 6);
        });
    }

    [Fact]
    public void A_show_of_half_a_year_ago_counts_half()
    {
        var fresh = new AllowanceModel([new("ANNA", "voice", 10, false, Now)], Now).For("ANNA", "voice").Db;
        var twoOld = new AllowanceModel(Enumerable.Repeat(new HeldBack("ANNA", "voice", 10, false, Now - TimeSpan.FromDays(180)), 2), Now);
        var oneOld = new AllowanceModel([new("ANNA", "voice", 10, false, Now - TimeSpan.FromDays(180))], Now);

        Assert.Equal(fresh, twoOld.For("ANNA", "voice").Db, 9);
        Assert.True(oneOld.For("ANNA", "voice").Db < fresh);
    }

    [Fact]
    public void Evidence_is_named_where_it_comes_from()
    {
        var model = new AllowanceModel([new("ANNA", "voice", 9, false, Now), new("ANNA", "voice", 9, false, Now), new("BO", "kick", 2, false, Now)], Now);

        Assert.EndsWith("from 2 shows of this player", model.For("ANNA", "voice").Basis, StringComparison.Ordinal);
        Assert.EndsWith("from 2 shows of other players (voice)", model.For("CARL", "voice").Basis, StringComparison.Ordinal);
        Assert.EndsWith("from 3 shows of other sources", model.For("DORA", "tom").Basis, StringComparison.Ordinal);
        Assert.True(model.For("ANNA", "voice").Db > model.For("CARL", "voice").Db);
        Assert.True(model.For("CARL", "voice").Db > model.For("DORA", "tom").Db);
    }

    [Fact]
    public void A_show_that_clipped_counts_only_where_it_was_louder_than_expected()
    {
        Assert.Equal(4, new AllowanceModel([new("ANNA", "voice", 2, true, Now)], Now).For("ANNA", "voice").Db, 9);
        Assert.True(new AllowanceModel([new("ANNA", "voice", 9, true, Now)], Now).For("ANNA", "voice").Db > 4);
    }

    // Forty players of five kinds, drawn from the model's own law with a fixed seed: their truth is known.
    [Fact]
    public void Among_players_whose_truth_is_known_the_error_shrinks_with_every_show()
    {
        var random = new Random(11);
        double Normal(double deviation) => deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var truths = Enumerable.Range(0, 5).SelectMany(kind =>
        {
            var ofKind = 5.5 + Normal(1.5);
            return Enumerable.Range(0, 8).Select(player => (Kind: $"K{kind}", Player: $"P{kind}{player}", Db: ofKind + Normal(2)));
        }).ToList();
        var shows = new List<HeldBack>();
        var errors = new List<double>();
        var covered = 0;
        for (var night = 0; night <= 8; night++)
        {
            var model = new AllowanceModel(shows, Now);
            var answers = truths.Select(truth => (truth.Db, Answer: model.For(truth.Player, truth.Kind))).ToList();
            errors.Add(Math.Sqrt(answers.Average(one => Math.Pow(one.Answer.Db - one.Db, 2))));
            foreach (var truth in truths)
                shows.Add(new(truth.Player, truth.Kind, truth.Db + Normal(2.113), false, Now));
            covered += answers.Where((one, index) => Math.Abs(one.Answer.Db - shows[(night * truths.Count) + index].AboveCheckDb) < 1.645 * one.Answer.SpreadDb).Count();
        }

        Assert.True(errors[1] < 0.8 * errors[0], string.Join(' ', errors));
        Assert.True(errors[8] < 0.4 * errors[0], string.Join(' ', errors));
        // Nine in ten of the shows to come lie inside the interval that goes with 1.645 deviations.
        Assert.InRange(covered / (9.0 * truths.Count), 0.86, 0.95);
    }

    /// <summary>The player's mean given all shows, by the joint normal distribution and Gaussian elimination.</summary>
    private static (double Mean, double Variance) WrittenOut(List<HeldBack> shows, string kind, string player)
    {
        double Covariance(string kindA, string playerA, string kindB, string playerB) =>
            All + (kindA == kindB ? Kinds : 0) + (kindA == kindB && playerA == playerB ? Players : 0);

        var n = shows.Count;
        var joint = new double[n, n + 2];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
                joint[i, j] = Covariance(shows[i].Kind, shows[i].Player, shows[j].Kind, shows[j].Player);
            joint[i, i] += Shows * Math.Pow(2, (Now - shows[i].At).TotalDays / 180);
            joint[i, n] = shows[i].AboveCheckDb - 4;
            joint[i, n + 1] = Covariance(shows[i].Kind, shows[i].Player, kind, player);
        }

        for (var column = 0; column < n; column++)
        {
            for (var row = 0; row < n; row++)
            {
                if (row == column)
                    continue;
                var share = joint[row, column] / joint[column, column];
                for (var k = column; k < n + 2; k++)
                    joint[row, k] -= share * joint[column, k];
            }
        }

        double mean = 4, variance = All + Kinds + Players;
        for (var i = 0; i < n; i++)
        {
            var with = Covariance(shows[i].Kind, shows[i].Player, kind, player);
            mean += with * joint[i, n] / joint[i, i];
            variance -= with * joint[i, n + 1] / joint[i, i];
        }

        return (mean, variance);
    }
}
