using Microsoft.Extensions.Time.Testing;
using TrimAssist.Service.Clocks;
using Xunit;

namespace TrimAssist.Service.Tests.Safety;

/// <summary>The stamp by which a picture's age is known, whatever the network and the clocks of others do.</summary>
public sealed class PictureClockTests
{
    private readonly FakeTimeProvider _time = new();

    [Fact]
    public void A_stamp_grows_with_the_steady_clock_and_tells_the_pictures_age()
    {
        var pictures = new PictureClock(_time);
        var stamp = pictures.Stamp();
        _time.Advance(TimeSpan.FromMilliseconds(1500));

        Assert.Equal(stamp + 1500, pictures.Stamp());
        Assert.Equal(TimeSpan.FromMilliseconds(1500), pictures.AgeOf(stamp));
        Assert.Null(pictures.AgeOf(stamp + 1501));
    }

    [Fact]
    public void A_stamp_of_another_run_has_no_age_however_long_either_has_run()
    {
        var (before, after) = (new PictureClock(_time), new PictureClock(_time));
        var (first, second) = (before.Stamp(), after.Stamp());
        _time.Advance(TimeSpan.FromMilliseconds(500));

        Assert.Null(after.AgeOf(first));
        Assert.Null(before.AgeOf(second));
    }

    [Fact]
    public void A_stamp_is_a_whole_number_in_every_browser() =>
        Assert.All(Enumerable.Range(0, 1000), _ => Assert.InRange(new PictureClock(_time).Stamp(), 0, (1L << 53) - 1));
}
