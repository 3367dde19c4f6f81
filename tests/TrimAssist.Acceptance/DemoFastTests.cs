using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance;

public sealed class DemoFastTests
{
    [Fact]
    public async Task The_whole_festival_runs_and_everything_confirmed_is_read_back()
    {
        await using var demo = TheProgram.TrimAssist("demo", "--fast");
        await demo.EndAsync(TimeSpan.FromMinutes(4));

        var figures = demo.Output.ToDictionary(line => line[..16].Trim(), line => line[16..]);
        Assert.True(demo.ExitCode == 0, string.Join('\n', demo.Errors));
        Assert.Equal("3", figures["acts"]);
        Assert.Equal("32", figures["inputs"]);
        Assert.True(int.Parse(figures["confirmed"]) >= 20);
        Assert.Equal(figures["confirmed"], figures["verified"]);
        // Without any trim set, most of these shows clip or whisper; with it hardly one clips.
        Assert.InRange(int.Parse(figures["shows clipped"]), 0, 3);
        Assert.EndsWith("of 7", figures["pops found"], StringComparison.Ordinal);
        Assert.InRange(int.Parse(figures["pops found"][..1]), 1, 7);
    }
}
