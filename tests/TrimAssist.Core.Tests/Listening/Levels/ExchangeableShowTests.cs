using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Levels;

/// <summary>
/// A show that is nothing but more of the check: of m check blocks and n show blocks, all alike, the show holds the highest with
/// probability n/(m + n), whatever their law (exchangeability; Rényi's records). What is stated may not contradict it.
/// </summary>
public sealed class ExchangeableShowTests
{
    private const int Inputs = 400;
    private const int Times = 3;

    [Fact]
    public void A_show_three_times_as_long_passes_the_check_in_three_of_four_cases_and_the_interval_in_less_than_one_in_ten()
    {
        var options = new ReportOptions { Allowance = new Decibels(0) };
        var (louder, inside, over) = (0, 0, 0);
        for (var input = 0; input < Inputs; input++)
        {
            var check = Played.Notes(2 * input);
            var show = (double)Played.Notes((2 * input) + 1, seconds: Times * 90).Max();
            var told = Played.Into(new LevelListener(1, Played.Traits), check).Report(options).Prediction!;
            louder += show > check.Max() ? 1 : 0;
            inside += show >= told.Low.Value && show <= told.High.Value ? 1 : 0;
            over += show > told.High.Value ? 1 : 0;
        }

        Assert.Equal(Times / (1.0 + Times), louder / (double)Inputs, 0.06);
        Assert.True(inside >= 0.9 * Inputs, $"{inside} of {Inputs} shows lie inside the interval");
        Assert.True(over <= 0.05 * Inputs, $"{over} of {Inputs} shows lie over it");
    }

    [Fact]
    public void The_interval_is_not_so_wide_that_it_says_nothing()
    {
        var told = Played.Report(Played.Notes(5)).Prediction!;
        Assert.InRange((told.High - told.Low).Value, 8, 18);
    }
}
