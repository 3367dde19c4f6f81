using CsCheck;
using TrimAssist.Core.Listening.Jumps;
using Xunit;

namespace TrimAssist.Core.Tests.Listening.Jumps;

/// <summary>The middle of the last minute, kept sorted, beside sorting it anew.</summary>
public sealed class UsualRestTests
{
    [Fact]
    public void The_middle_of_the_last_sixty_seconds_is_the_one_that_sorting_them_gives()
        => Gen.Int[-90, -20].Array[1, 200].Sample(levels =>
        {
            var rest = new UsualRest(frameS: 1);
            for (var i = 0; i < levels.Length; i++)
            {
                rest.Add(levels[i]);
                int[] minute = [.. levels[..(i + 1)].TakeLast(60).Order()];
                Assert.Equal(minute[minute.Length / 2], rest.Dbfs);
            }
        });
}
