using TrimAssist.Core.Assist;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Assist;

/// <summary>What is known of an input while no meters come.</summary>
public sealed class MetersMissingTests
{
    [Fact]
    public void No_level_is_told_and_what_was_heard_before_stands_as_last_known()
    {
        var bench = new AssistantBench();
        for (var frame = 0; frame < 600; frame++)
            bench.Assistant.OnReading(new MeterReading(1, frame * 0.05, -20 - (frame * 7 % 5), -32 - (frame * 7 % 5)), bench.Now);
        bench.Wait(1);
        var heard = bench.Assistant.Input(1);
        Assert.NotNull(heard.LoudestPassageDbfs);

        bench.Assistant.OnLink(LinkState.Stale, Saying.Plain("The meters stopped."), bench.Now);
        Assert.Null(bench.Assistant.Input(1).LoudestPassageDbfs);
        var last = bench.Assistant.LastKnown(1);
        Assert.Equal((null, null, Activity.Unknown), (last.PeakDbfs, last.RmsDbfs, last.Activity));
        Assert.Equal((heard.LoudestPassageDbfs, heard.HeldPeakDbfs, heard.NoiseFloorDbfs), (last.LoudestPassageDbfs, last.HeldPeakDbfs, last.NoiseFloorDbfs));
    }
}
