using TrimAssist.Service.Acts;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any bytes as an act's input list.</summary>
public static class InputListTarget
{
    private const int Inputs = 32;

    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var reading = InputListReader.Read(bytes.ToArray(), "fuzz", Inputs);
        foreach (var line in reading.Act?.Inputs ?? [])
            Expect.That(line.Input is >= 1 and <= Inputs, "an input that the desk has not");
    }
}
