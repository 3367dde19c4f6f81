using TrimAssist.Core.Acts;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>After an hour a report reads a long tape. Looking at a whole desk must not hold up its meters.</summary>
public sealed class LongShowTests
{
    private const int Inputs = 12;
    private const int HourS = 3600;
    private static readonly DeskDescription Desk = new() { Id = "desk", Name = "Desk", Inputs = Inputs, Meter = new MeterTraits(1, 0, MeterTap.Converter, FollowsMute: false) };
    private readonly Ears _ears = new(Desk, new ActStage(Desk, AssistOptions.Default.Target, AssistOptions.Default.AllowanceOf));
    private readonly FindingRing _unheard = new();
    private int _timeS;

    public LongShowTests()
    {
        Turn(20);
        Play(HourS);
    }

    [Fact]
    public void A_look_between_two_readings_reads_no_more_than_a_few_inputs_and_every_input_has_its_turn()
    {
        var looks = 0;
        var reports = Look();
        Assert.InRange(reports.Count(report => report is not null), 1, 2);
        for (; Array.Exists(reports, report => report is null) && looks < Inputs; looks++)
        {
            Play(1);
            var now = Look();
            Assert.InRange(Enumerable.Range(0, Inputs).Count(input => !ReferenceEquals(now[input], reports[input])), 1, 2);
            reports = now;
        }

        Assert.All(reports, Assert.NotNull);
    }

    [Fact]
    public void What_was_made_out_at_another_gain_is_not_shown_at_the_new_one()
    {
        for (var look = 0; look < Inputs; look++)
        {
            Play(1);
            Look();
        }

        Turn(30);

        Assert.All(Look().OfType<InputReport>(), report => Assert.InRange(report.Peak!.Value.Value, -12, -8));
    }

    private InputReport?[] Look() => [.. Enumerable.Range(1, Inputs).Select(_ears.Recent)];

    private void Turn(double trimDb)
    {
        for (var input = 1; input <= Inputs; input++)
            _ears.Refer(new InputSettings { Input = input }, new InputSettings { Input = input, Trim = new Decibels(trimDb) });
    }

    private void Play(int seconds)
    {
        for (var until = _timeS + seconds; _timeS < until;)
        {
            _timeS++;
            for (var input = 1; input <= Inputs; input++)
            {
                _ears.Hear(new MeterReading(input, _timeS, _timeS % 60 < 40 ? -20 - (_timeS % 3) : -70, float.NaN), _unheard);
                while (_unheard.TryTake(out _))
                {
                }
            }
        }
    }
}
