using System.Globalization;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.DemoDesk;

/// <summary>One control of the demo desk: where it lives, what it says, what setting it does.</summary>
/// <param name="Name">The last part of the address.</param>
/// <param name="Value">What it says.</param>
/// <param name="Set">What setting it does; <see langword="null"/> for what can only be read.</param>
internal sealed record DemoControl(string Name, Func<DemoMixer, int, OscArgument> Value, Action<DemoMixer, int, double>? Set)
{
    /// <summary>The control as the desk tells it.</summary>
    public OscMessage Tell(DemoMixer mixer, int input) =>
        new(string.Create(CultureInfo.InvariantCulture, $"/bank/{input:00}/{Name}"), Value(mixer, input));
}

/// <summary>Every control of the demo desk. The addresses are our own invention.</summary>
internal static class DemoControls
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<DemoControl> All { get; } =
    [
        new("lift", (mixer, input) => OscArgument.Of((float)mixer.Input(input).TrimDb), (mixer, input, value) => mixer.Input(input).SetTrim(value)),
        new("duck", (mixer, input) => Flag(mixer.Input(input).PadOn), (mixer, input, value) => mixer.Input(input).PadOn = value != 0),
        new("shut", (mixer, input) => Flag(mixer.Input(input).Muted), (mixer, input, value) => mixer.Input(input).Muted = value != 0),
        new("phantom", (mixer, input) => Flag(mixer.Input(input).PhantomOn), null),
        new("slide", (mixer, input) => OscArgument.Of((float)mixer.Input(input).FaderDb), (mixer, input, value) => mixer.Input(input).SetFader(value)),
        new("plug", (_, input) => OscArgument.Of(string.Create(CultureInfo.InvariantCulture, $"stage {input}")), null),
        new("who", (mixer, input) => OscArgument.Of(mixer.Input(input).Label), null),
    ];

    /// <summary>The control and input that an address names.</summary>
    public static (DemoControl? Control, int Input) Find(string address, int inputs)
    {
        var parts = address.Split('/', 5);
        if (parts is not ["", "bank", var number, var name] || !int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var input)
            || input < 1 || input > inputs)
        {
            return (null, 0);
        }

        return (All.FirstOrDefault(control => string.Equals(control.Name, name, StringComparison.Ordinal)), input);
    }

    private static OscArgument Flag(bool on) => OscArgument.Of(on ? 1 : 0);
}
