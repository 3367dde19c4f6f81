using TrimAssist.Core.Advice;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Tests.Listening.Levels;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>What becomes of advice when somebody turns the trim: no sentence may stand that would have it turned twice.</summary>
public sealed class AdviceFollowedTests
{
    private readonly AssistantBench _bench = new();

    [Fact]
    public void A_trim_that_is_turned_is_judged_at_once_with_what_was_heard_at_the_gain_before()
    {
        Turn(58);
        Play(softerDb: 25);
        var before = _bench.Assistant.Input(1).Advice;
        Assert.Equal((AdviceKind.TrimAtItsEnd, "the source"), (before?.Kind, before?.Stage));

        Turn(60);

        Assert.Equal(before!.ByDb, _bench.Assistant.Input(1).Advice?.ByDb);
        Assert.Contains("the trim stands at 60 dB", _bench.Assistant.Input(1).Advice!.Evidence[0], StringComparison.Ordinal);
    }

    private void Turn(double db) => _bench.Say(one => one with { Trim = new(db), Muted = false });

    private void Play(float softerDb)
    {
        var now = 0.0;
        foreach (var level in Played.Notes(1, seconds: 30))
        {
            now += Played.FrameS;
            _bench.Assistant.OnReading(new MeterReading(1, now, level - softerDb, level - softerDb - 9), _bench.Now);
        }
    }
}
