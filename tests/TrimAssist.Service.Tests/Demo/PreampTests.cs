using TrimAssist.DemoDesk;
using TrimAssist.DemoDesk.Band;
using TrimAssist.DemoDesk.Mixing;
using TrimAssist.Protocols.Osc;
using Xunit;

namespace TrimAssist.Service.Tests.Demo;

/// <summary>The demo desk's inputs: where they clip, what of their noise moves with the trim, what a bang of milliseconds can show.</summary>
public sealed class PreampTests
{
    private const double FrameS = 0.05;
    private const double NoNoise = -160;

    // EBU R 68: digital full scale is +18 dBu.
    [Theory]
    [InlineData(18, 0, false, 0)]
    [InlineData(17, 0, false, -1)]
    [InlineData(30, 0, false, 0)]
    [InlineData(-2, 20, false, 0)]
    [InlineData(-10, 20, false, -8)]
    [InlineData(-10, 20, true, -28)]
    public void Full_scale_is_18_dBu_less_the_trim_plus_the_pad(double peakDbu, double trim, bool pad, double dbfs)
    {
        var preamp = Preamp(trim, pad);

        var meter = preamp.Meter(new SourceFrame(peakDbu, peakDbu - 10), NoNoise, FrameS);

        Assert.Equal(dbfs, meter.PeakDbfs, 2);
        Assert.True(meter.RmsDbfs <= meter.PeakDbfs);
    }

    [Fact]
    public void Noise_from_upstream_moves_with_the_trim_and_the_converters_does_not()
    {
        static double Floor(double noiseDbu, double trim) => Preamp(trim).Meter(SourceFrame.Silence, noiseDbu, FrameS).RmsDbfs;

        Assert.Equal(20, Floor(-70, 40) - Floor(-70, 20), 1);
        Assert.InRange(Floor(NoNoise, 10) - Floor(NoNoise, 0), 0, 0.1);
        Assert.InRange(Floor(NoNoise, 0), -108.1, -107.9);
    }

    // Johnson and Nyquist 1928: 150 ohms at room temperature over 20 kHz make -130.9 dBu.
    [Fact]
    public void No_input_is_quieter_than_the_thermal_noise_of_its_source() =>
        Assert.True(Preamp(60).Meter(SourceFrame.Silence, NoNoise, FrameS).RmsDbfs > -130.9 + 60 - 18);

    // A decay of 1 ms in a frame of 50 ms: the mean square is 1/4 of 1/50, and AES17 adds 3 dB.
    [Fact]
    public void A_bang_of_a_millisecond_shows_its_peak_and_hardly_any_power_however_hard_it_clips()
    {
        static MeterPair Bang(double dbu) => Preamp(0).Meter(SourceFrame.Silence with { Bang = new Bang(dbu, 0.001) }, NoNoise, FrameS);

        Assert.Equal(-2, Bang(16).PeakDbfs, 1);
        Assert.Equal(-2 - 20, Bang(16).RmsDbfs, 1);
        Assert.Equal(0, Bang(48).PeakDbfs, 1);
        Assert.InRange(Bang(48).RmsDbfs, -14, -7);
    }

    [Fact]
    public void What_is_no_number_moves_neither_trim_nor_fader()
    {
        var mixer = new DemoMixer(1);
        var (trim, fader) = (mixer.Input(1).TrimDb, mixer.Input(1).FaderDb);

        foreach (var name in new[] { "lift", "slide" })
        {
            foreach (var value in new[] { double.NaN, double.PositiveInfinity, double.NegativeInfinity })
                DemoControls.All.Single(control => control.Name == name).Set!(mixer, 1, value);
        }

        Assert.Equal((trim, fader), (mixer.Input(1).TrimDb, mixer.Input(1).FaderDb));
        Assert.Equal(OscArgument.Of((float)fader), DemoControls.All.Single(control => control.Name == "slide").Value(mixer, 1));
    }

    private static Preamp Preamp(double trim, bool pad = false)
    {
        var preamp = new Preamp { PadOn = pad };
        preamp.SetTrim(trim);
        return preamp;
    }
}
