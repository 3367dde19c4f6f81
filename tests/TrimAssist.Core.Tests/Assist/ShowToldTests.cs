using TrimAssist.Core.Acts;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>When a show is told: every minute what has changed, and whole when it is over or the service stops.</summary>
public sealed class ShowToldTests
{
    private readonly AssistantBench _bench = new();
    private int _frame;

    public ShowToldTests()
    {
        _bench.Say(one => one with { Trim = new(21) });
        _bench.Assistant.BeginAct(new Act("Kites", null, [new(1, "Lead", "voice", SourceRole.Performer, "Ada", null, null, null, null)]), _bench.Now);
        _bench.Assistant.Watch(true, _bench.Now);
    }

    [Fact]
    public void A_show_that_goes_on_is_told_every_minute_where_it_got_louder_and_does_not_teach_yet()
    {
        Play(-20);
        _bench.Wait(59);
        Assert.Empty(_bench.Shows);

        _bench.Wait(2);
        _bench.Wait(61);
        Play(-12);
        _bench.Wait(61);

        Assert.Equal([-20, -12], _bench.Shows.Select(show => Assert.Single(show.Inputs).ShowPeakDbfs!.Value));
        Assert.All(_bench.Shows, show => Assert.False(show.IsOver));
    }

    [Fact]
    public void What_stands_is_told_whole_when_the_watch_ends_though_it_was_told_before()
    {
        Play(-20);
        _bench.Wait(61);
        _bench.Assistant.Watch(false, _bench.Now);

        Assert.Equal([false, true], _bench.Shows.Select(show => show.IsOver));
        Assert.Equal([true, false], _bench.Shows.Select(show => Assert.Single(show.Inputs).SoFar));
        Assert.Equal(-20, Assert.Single(_bench.Shows[^1].Inputs).ShowPeakDbfs!.Value);
    }

    [Fact]
    public void A_service_that_stops_tells_a_show_that_is_still_watched_as_not_over_and_nothing_else()
    {
        Play(-20);
        Assert.True(_bench.Assistant.Leave(_bench.Now));
        var (inputs, isOver) = Assert.Single(_bench.Shows);
        Assert.False(isOver);
        Assert.True(Assert.Single(inputs).SoFar);

        _bench.Assistant.Watch(false, _bench.Now);
        _bench.Shows.Clear();
        Assert.False(_bench.Assistant.Leave(_bench.Now));
        Assert.Empty(_bench.Shows);
    }

    [Theory]
    [InlineData(15, false)]
    [InlineData(31, true)]
    public void A_service_that_stops_after_a_minute_of_silence_tells_the_show_as_over(int silences, bool isOver)
    {
        Play(-20);
        for (var left = silences; left > 0; left--)
            Play(-70);
        Assert.True(_bench.Assistant.Leave(_bench.Now));

        var told = Assert.Single(_bench.Shows);
        Assert.Equal(isOver, told.IsOver);
        Assert.Equal((-20.0, !isOver), (Assert.Single(told.Inputs).ShowPeakDbfs!.Value, told.Inputs[0].SoFar));
    }

    [Fact]
    public void A_line_that_carries_nothing_but_noise_does_not_keep_a_show_going()
    {
        _bench.Assistant.Watch(false, _bench.Now);
        ActInput Performer(int input, string name) => new(input, name, "voice", SourceRole.Performer, name, null, null, null, null);
        _bench.Assistant.BeginAct(new Act("Kites", null, [Performer(1, "Lead"), Performer(2, "Nobody")]), _bench.Now);
        var check = _bench.Assistant.StartCheck([1, 2], _bench.Now);
        for (var left = 10; left > 0; left--)
            Play(-20);
        _bench.Assistant.FinishCheck(check.Id, _bench.Now);
        _bench.Assistant.Watch(true, _bench.Now);
        Play(-20);
        for (var left = 31; left > 0; left--)
            Play(-80);

        _bench.Shows.Clear();
        Assert.True(_bench.Assistant.Leave(_bench.Now));
        Assert.True(Assert.Single(_bench.Shows).IsOver);
    }

    // Two seconds: a frame counts in a show when it is a second old.
    private void Play(float peakDbfs)
    {
        for (var left = 40; left > 0; left--)
        {
            var at = ++_frame * 0.05;
            _bench.Assistant.OnReading(new MeterReading(1, at, peakDbfs - (_frame % 3), peakDbfs - 10), _bench.Now);
            _bench.Assistant.OnReading(new MeterReading(2, at, -80, -90), _bench.Now);
        }
    }
}
