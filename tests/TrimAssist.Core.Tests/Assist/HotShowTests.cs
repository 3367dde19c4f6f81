using TrimAssist.Core.Acts;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Tests.Listening.Levels;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

public sealed class HotShowTests
{
    private static readonly DeskDescription Desk = new() { Id = "desk", Name = "Desk", Inputs = 1, Meter = Played.Traits };

    private readonly Ears _ears = new(Desk, new ActStage(Desk, AssistOptions.Default.Target, AssistOptions.Default.AllowanceOf));
    private readonly FindingRing _found = new();
    private double _nowS;

    [Theory]
    [InlineData(0, false)]
    [InlineData(8, false)]
    [InlineData(26, true)]
    public void A_show_is_hot_where_it_passes_the_upper_end_of_what_the_check_let_expect(double louderDb, bool hot)
    {
        Assert.False(Hear(Played.Notes(1), 0));
        _ears.ExpectShow(true);
        Assert.Equal(hot, Hear(Played.Notes(2, seconds: 20), louderDb));
    }

    [Fact]
    public void A_trim_that_takes_the_gain_back_takes_the_expectation_along()
    {
        Turn(null, 30);
        Hear(Played.Notes(1), 0);
        _ears.ExpectShow(true);
        Turn(30, 10);
        Assert.False(Hear(Played.Notes(2, seconds: 20), -20));
        Assert.True(Hear(Played.Notes(3, seconds: 20), 6));
    }

    [Fact]
    public void A_check_begun_in_the_middle_of_the_show_leaves_the_expectation_as_it_was()
    {
        Turn(null, 30);
        Hear(Played.Notes(1), 0);
        _ears.ExpectShow(true);
        _ears.Restart(1);
        Turn(30, 31);
        Assert.False(Hear(Played.Notes(2, seconds: 20), 1));
        Assert.True(Hear(Played.Notes(3, seconds: 20), 26));
    }

    [Fact]
    public void Without_a_watch_nothing_is_hot()
    {
        Hear(Played.Notes(1), 0);
        _ears.ExpectShow(true);
        _ears.ExpectShow(false);
        Assert.False(Hear(Played.Notes(2, seconds: 20), 26));
    }

    private void Turn(double? from, double to) => _ears.Refer(Settings(from), Settings(to));

    private static InputSettings Settings(double? trimDb) => new() { Input = 1, Trim = trimDb is { } db ? new Decibels(db) : null };

    private bool Hear(IEnumerable<float> levels, double louderDb)
    {
        var hot = false;
        foreach (var level in levels)
        {
            _nowS += Played.FrameS;
            var peak = level + (float)louderDb;
            _ears.Hear(new MeterReading(1, _nowS, peak, peak - 9), _found);
            while (_found.TryTake(out var word))
                hot |= word.Kind == FindingKind.Hot;
        }

        return hot;
    }
}
