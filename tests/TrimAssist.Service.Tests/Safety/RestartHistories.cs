using CsCheck;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>
/// Random histories of the whole way from a proposal to the wire: confirmations right and wrong, repeated and at the same time, waits, clocks
/// that are set, hands at the desk, scenes recalled, links lost, safe patches, a show watch, a desk that ignores, alters or never answers, a
/// journal that refuses, and a program that dies at any of its waits and starts again from its journal. What must hold in every one of them is
/// said in <see cref="HistoryWorld"/>.
/// </summary>
public sealed class RestartHistories
{
    private const int HistoriesInCi = 4000;

    // The gate alone is held to a hundred thousand (GateHistories); HISTORIES asks for as many here.
    private static int Histories => int.TryParse(Environment.GetEnvironmentVariable("HISTORIES"), System.Globalization.CultureInfo.InvariantCulture, out var many) ? many : HistoriesInCi;

    [Fact]
    public async Task Every_write_has_exactly_one_confirmation_before_it_and_nothing_acknowledged_is_forgotten_whatever_happens()
    {
        var seen = new HistoryTally();
        // On the pool, where nothing keeps an answered wait from going on at once: everything happens in the order told.
        await Task.Run(() => Gen.Select(Gen.Enum<HistoryDeed>(), Gen.Int[1, HistoryWorld.Inputs], Gen.Int[0, 60]).Array[1, 60].Sample(
            history =>
            {
                var world = new HistoryWorld(seen);
                foreach (var (deed, input, number) in history)
                    world.Do(deed, input, number);
                Assert.True(world.Broken is null, world.Broken);
            },
            iter: Histories,
            print: history => string.Join(", ", history.Select(one => $"{one.Item1} {one.Item2} {one.Item3}"))));

        TestContext.Current.TestOutputHelper?.WriteLine($"{Histories} histories: {seen}");
        // A test that never comes to the places it is about cannot fail there.
        Assert.All(seen.Counts, count => Assert.True(count.Value > 0, $"no history came to {count.Key}"));
    }
}
