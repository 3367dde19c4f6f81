using TrimAssist.Core.Chain;
using TrimAssist.Core.Units;
using Xunit;

namespace TrimAssist.Core.Tests.Chain;

/// <summary>The planner's noise arithmetic against published formulas and worked examples.</summary>
public sealed class PublishedNoiseFigures
{
    // √(4kTRB), Johnson 1928 and Nyquist 1928, with the Boltzmann constant of the SI of 2019; 20 Hz to 20 kHz.
    [Theory]
    [InlineData(150, 293.15, -130.922)]
    [InlineData(200, 293.15, -129.673)]
    [InlineData(50, 293.15, -135.694)]
    [InlineData(600, 293.15, -124.902)]
    [InlineData(150, 300, -130.818)]
    public void Thermal_noise_of_a_source_resistor(double ohms, double kelvin, double dbu) =>
        Assert.Equal(dbu, ThermalNoise.Of(ohms, kelvin, kelvin == 300 ? 20_000 : ThermalNoise.AudioBandHertz).Value, 0.01);

    [Fact]
    public void Thermal_noise_at_290_kelvin_in_20_kilohertz() => Assert.Equal(-130.965, ThermalNoise.Of(150, 290, 20_000).Value, 0.01);

    // The definition of IEC 60268-3, as far as memory goes: equivalent input noise is output noise less gain.
    [Theory]
    [InlineData(0)]
    [InlineData(30)]
    [InlineData(60)]
    public void Equivalent_input_noise_appears_at_the_output_raised_by_the_gain(double gain)
    {
        var chain = Chains.From(-60, -60 + gain, Chains.Stage("preamp", 0, 60).Ein(-127));
        var levels = ChainLevels.At(chain, [new(new(gain), false)]);
        Assert.Equal(-127 + gain, levels.Stages[0].NoiseOut!.Value.Value, 9);
    }

    [Fact]
    public void An_equivalent_input_noise_of_minus_127_dBu_at_150_ohms_is_a_noise_figure_of_3_92_dB() =>
        Assert.Equal(3.92, (new Dbu(-127) - ThermalNoise.Of(150)).Value, 0.01);

    // Friis 1944, Proc. IRE 32:419; the two examples are those of a public noise-figure calculator page, which prints 1.62 and 1.80 dB.
    [Theory]
    [InlineData(1.5, 20, 6, 10, 10, 1.618)]
    [InlineData(1.5, 20, 10, 15, 15, 1.796)]
    public void A_cascade_has_the_noise_figure_of_Friis(double figure1, double gain1, double figure2, double gain2, double figure3, double expected)
    {
        var thermal = ThermalNoise.Of(150);
        var chain = Chains.From(-60, 0, Amplifier("one", gain1, figure1), Amplifier("two", gain2, figure2), Amplifier("three", 0, figure3)) with { SourceNoise = thermal };
        var levels = ChainLevels.At(chain, [new(new(gain1), false), new(new(gain2), false), new(new(0), false)]);
        var atSource = (chain.Source - thermal).Value;
        Assert.Equal(expected, atSource - levels.SignalToNoise!.Value.Value, 0.005);

        ChainStage Amplifier(string name, double gain, double figure) =>
            Chains.Stage(name, gain, gain).Ein(thermal.Value + 10 * Math.Log10(Math.Pow(10, figure / 10) - 1));
    }

    // Analytic: n equal uncorrelated sources add 10 log n.
    [Theory]
    [InlineData(2, 3.0103)]
    [InlineData(3, 4.7712)]
    [InlineData(4, 6.0206)]
    [InlineData(10, 10)]
    public void Equal_noises_add_as_powers(int count, double rise)
    {
        var stages = Enumerable.Range(1, count).Select(number => Chains.Stage($"stage {number}", 0, 0).Hiss(-80)).ToArray();
        var levels = ChainLevels.At(Chains.From(0, 0, stages), [.. stages.Select(_ => new StageSetting(Decibels.Zero, false))]);
        Assert.Equal(-80 + rise, levels.Stages[^1].NoiseOut!.Value.Value, 1e-4);
    }

    [Fact]
    public void A_noise_10_dB_lower_adds_0_4139_dB() => Assert.Equal(0.4139, NoisePower.Sum(new Dbu(0), new Dbu(-10))!.Value.Value, 1e-4);

    [Fact]
    public void Absent_noise_adds_nothing()
    {
        Assert.Null(NoisePower.Sum(null, null));
        Assert.Equal(-80, NoisePower.Sum(new Dbu(-80), null)!.Value.Value);
    }
}
