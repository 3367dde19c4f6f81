using TrimAssist.Core.Checks;
using Xunit;

namespace TrimAssist.Core.Tests.Checks;

/// <summary>When a check begins and finishes by itself in a rehearsal room: second by second, the meters as a test says.</summary>
public sealed class RehearsalListenerTests
{
    private const int Inputs = 3;
    private const double NoiseDbfs = -75;

    private readonly RehearsalListener _listener = new(Inputs);
    private readonly double[] _activeS = new double[Inputs + 1];
    private TimeSpan _now;
    private RehearsalSight _sight;
    private int _random = 1;

    [Fact]
    public void The_first_sound_after_silence_begins_one_check()
    {
        Assert.Empty(Rest(61));

        Assert.Equal([RehearsalStep.Begin], Play(10, (1, -20)));
        Assert.InRange(_sight.LastCheckAt!.Value.TotalSeconds, 60, 67);
    }

    [Fact]
    public void Without_a_minute_of_silence_before_nothing_begins()
    {
        Assert.Empty(Rest(50));
        Assert.Empty(Play(300, (1, -20)));
    }

    [Fact]
    public void Noise_and_a_bang_begin_nothing_and_do_not_end_the_silence()
    {
        Assert.Empty(Rest(61));
        Assert.Empty(Play(300, (2, NoiseDbfs + 8)));
        Assert.Empty(Play(2, (1, -3)));
        Assert.Empty(Rest(1));

        Assert.Equal([RehearsalStep.Begin], Play(5, (1, -20)));
    }

    [Fact]
    public void What_arrives_before_the_rest_is_known_and_what_never_rests_begins_nothing()
    {
        Assert.Empty(Play(300, (1, -20)));
        Assert.Empty(Play(300, (1, -50), (2, -40)));
    }

    [Fact]
    public void Seconds_in_which_nothing_arrives_are_no_silence()
    {
        Assert.Empty(Rest(20));
        for (var second = 0; second < 120; second++)
            Assert.Equal(RehearsalStep.None, Pass());
        Assert.Empty(Play(10, (1, -20)));
    }

    [Fact]
    public void While_a_show_is_watched_nothing_begins()
    {
        Rest(61);
        _sight = _sight with { Watching = true };

        Assert.Empty(Play(60, (1, -20)));
    }

    [Fact]
    public void Beside_a_check_that_somebody_else_began_nothing_begins()
    {
        Rest(61);
        _sight = _sight with { OtherListens = true };

        Assert.Empty(Play(60, (1, -20)));
    }

    [Fact]
    public void It_is_over_when_everybody_who_plays_was_heard_ten_seconds_but_not_before_three_quarters_of_a_minute()
    {
        Begin();
        _activeS[1] = 30;
        Assert.Empty(Play(38, (1, -20), (2, -30)));
        _activeS[2] = 9;
        Assert.Empty(Play(20, (1, -20), (2, -30)));

        _activeS[2] = 10;
        Assert.Equal([RehearsalStep.Finish], Play(1, (1, -20), (2, -30)));
    }

    [Fact]
    public void One_who_has_stopped_is_waited_for_no_longer()
    {
        Begin();
        _activeS[1] = 30;
        Assert.Empty(Play(5, (1, -20), (3, -20)));

        Assert.Equal([RehearsalStep.Finish], Play(60, (1, -20)));
        Assert.InRange((_now - _sight.LastCheckAt!.Value).TotalSeconds, 0, 25);
    }

    [Fact]
    public void It_is_over_when_nobody_has_played_for_twenty_seconds()
    {
        Begin();

        Assert.Empty(Rest(RehearsalListener.StoppedAfterS - 1));
        Assert.Equal([RehearsalStep.Finish], Rest(1));
    }

    [Fact]
    public void An_input_of_which_too_little_is_ever_heard_holds_it_for_five_minutes_at_the_most()
    {
        Begin();

        Assert.Empty(Play(280, (1, -20)));
        Assert.Equal([RehearsalStep.Finish], Play(20, (1, -20)));
    }

    [Fact]
    public void After_a_check_the_band_has_two_minutes_and_a_song_that_goes_on_begins_no_other()
    {
        Begin();
        Assert.Equal([RehearsalStep.Finish], Rest(20));

        Assert.Empty(Rest(70));
        Assert.Empty(Play(200, (1, -20)));
        Assert.Empty(Rest(62));
        Assert.Equal([RehearsalStep.Begin], Play(5, (1, -20)));
    }

    [Fact]
    public void A_trim_turned_up_or_a_meter_back_from_its_mute_is_no_first_sound()
    {
        Rest(61);
        _listener.Refer(1, 20);
        Assert.Empty(Play(10, (1, NoiseDbfs + 20)));

        _listener.Forget(2);
        Assert.Empty(Play(10, (1, NoiseDbfs + 20), (2, NoiseDbfs + 30)));
    }

    [Fact]
    public void Listening_allocates_nothing()
    {
        Rest(61);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var frame = 0; frame < 1000; frame++)
            _listener.Hear(1, -20);

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private void Begin()
    {
        Rest(61);
        Assert.Equal([RehearsalStep.Begin], Play(RehearsalListener.FirstSoundS, (1, -20)));
    }

    private List<RehearsalStep> Rest(int seconds) => Play(seconds);

    // Everybody else rests in noise that moves by 3 dB.
    private List<RehearsalStep> Play(int seconds, params (int Input, double Dbfs)[] players)
    {
        List<RehearsalStep> steps = [];
        for (var left = seconds; left > 0; left--)
        {
            for (var input = 1; input <= Inputs; input++)
            {
                _random = (_random * 75 + 74) % 65537;
                var level = Array.Find(players, player => player.Input == input) is { Input: > 0 } player ? player.Dbfs : NoiseDbfs;
                _listener.Hear(input, level - 3.0 * _random / 65537);
                _listener.Hear(input, double.NaN);
            }

            if (Pass() is var step and not RehearsalStep.None)
                steps.Add(step);
        }

        return steps;
    }

    private RehearsalStep Pass()
    {
        _now += TimeSpan.FromSeconds(1);
        var step = _listener.Pass(_now, _sight, input => _activeS[input]);
        if (step != RehearsalStep.None)
            _sight = _sight with { OwnListens = step == RehearsalStep.Begin, LastCheckAt = _now };
        return step;
    }
}
