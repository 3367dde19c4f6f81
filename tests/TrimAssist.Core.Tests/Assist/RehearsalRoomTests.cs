using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Meters;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>A desk's assistant in a rehearsal room: what a watch, an engineer's own check and a turned trim do to checks that begin by themselves.</summary>
public sealed class RehearsalRoomTests
{
    private readonly AssistantBench _bench = new(new RehearsalOptions());
    private int _second;

    [Fact]
    public void Where_it_was_not_asked_for_nothing_begins()
    {
        var plain = new AssistantBench();
        Pass(plain, 62, -80);
        Pass(plain, 30, -20);

        Assert.Null(plain.Assistant.LatestCheck);
    }

    [Fact]
    public void A_watch_that_begins_ends_the_check_that_began_by_itself_and_none_begins_during_it()
    {
        Pass(_bench, 62, -80);
        Pass(_bench, 5, -20);
        Assert.Equal(CheckState.Listening, _bench.Assistant.LatestCheck!.State);

        _bench.Assistant.Watch(true, _bench.Now);
        Assert.Equal(CheckState.Finished, _bench.Assistant.LatestCheck!.State);
        var ended = _bench.Assistant.LatestCheck;
        Pass(_bench, 200, -80);
        Pass(_bench, 30, -20);

        Assert.Equal(ended, _bench.Assistant.LatestCheck);
    }

    [Fact]
    public void A_check_that_an_engineer_began_is_neither_joined_nor_finished()
    {
        var own = _bench.Assistant.StartCheck([2], _bench.Now);
        Pass(_bench, 62, -80);
        Pass(_bench, 60, -20);
        Pass(_bench, 200, -80);

        Assert.Equal(own, _bench.Assistant.LatestCheck);
    }

    [Fact]
    public void A_trim_turned_up_raises_the_noise_and_is_no_first_sound()
    {
        Pass(_bench, 62, -80);
        _bench.Say(one => one with { Trim = new(one.Trim!.Value.Value + 25) });
        Pass(_bench, 20, -55);

        Assert.Null(_bench.Assistant.LatestCheck);
    }

    [Fact]
    public void At_the_time_that_was_set_a_check_begins_though_nobody_plays_yet_and_whoever_comes_late_is_waited_for()
    {
        // The bench's day begins at midnight.
        var bench = new AssistantBench(new RehearsalOptions { ChecksAt = [new TimeOnly(0, 2)] });
        Pass(bench, 119, -80);
        Assert.Null(bench.Assistant.LatestCheck);
        Pass(bench, 2, -80);
        Assert.Equal((CheckState.Listening, "It began by itself, at the time that was set."), (bench.Assistant.LatestCheck!.State, bench.Assistant.LatestCheck.Note?.ToString()));

        Pass(bench, 100, -80);
        Assert.Equal(CheckState.Listening, bench.Assistant.LatestCheck!.State);
        Pass(bench, 40, -20);
        Pass(bench, 21, -80);
        Assert.Equal(CheckState.Finished, bench.Assistant.LatestCheck!.State);
    }

    [Fact]
    public void Where_nobody_comes_the_check_by_the_clock_gives_up_and_during_a_show_there_is_none()
    {
        var bench = new AssistantBench(new RehearsalOptions { ChecksAt = [new TimeOnly(0, 2), new TimeOnly(0, 10)] });
        Pass(bench, 125, -80);
        Pass(bench, 300, -80);
        Assert.Equal(CheckState.Finished, bench.Assistant.LatestCheck!.State);

        bench.Assistant.Watch(true, bench.Now);
        Pass(bench, 240, -80);
        Assert.Equal(CheckState.Finished, bench.Assistant.LatestCheck!.State);
    }

    // A level that moves a little, as every meter's does.
    private void Pass(AssistantBench bench, int seconds, float peakDbfs)
    {
        for (var left = seconds; left > 0; left--)
        {
            _second++;
            for (var frame = 0; frame < 20; frame++)
            {
                var peak = peakDbfs - (frame * 7 + _second * 3) % 5;
                bench.Assistant.OnReading(new MeterReading(1, _second + frame * 0.05, peak, peak - 12), bench.Now);
            }

            bench.Wait(1);
        }
    }
}
