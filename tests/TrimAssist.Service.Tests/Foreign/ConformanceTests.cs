using Xunit;

namespace TrimAssist.Service.Tests.Foreign;

/// <summary>Ten foreign desks that speak OSC, and four that speak MIDI over the network, pass one scenario.</summary>
public sealed class ConformanceTests
{
    [Fact]
    public async Task Every_dialect_passes_the_scenario()
    {
        var faults = await Task.WhenAll(Dialects.All.Select(dialect => Task.Run(() =>
            ConformanceScenario.FaultOfAsync(dialect.Id, clock => new ScriptedDesk(dialect, clock)))));
        Assert.Equal(10, faults.Length);
        Assert.True(faults.All(fault => fault is null), string.Join('\n', faults.OfType<string>()));
    }

    [Fact]
    public async Task Every_midi_dialect_passes_the_scenario()
    {
        var faults = await Task.WhenAll(MidiDialects.All.Select(dialect => Task.Run(() =>
            ConformanceScenario.FaultOfAsync(dialect.Id, clock => new MidiScriptedDesk(dialect, clock)))));
        Assert.Equal(4, faults.Length);
        Assert.True(faults.All(fault => fault is null), string.Join('\n', faults.OfType<string>()));
    }
}
