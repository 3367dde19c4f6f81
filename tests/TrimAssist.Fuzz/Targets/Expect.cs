namespace TrimAssist.Fuzz.Targets;

/// <summary>A property that must hold for any input; breaking it is a finding.</summary>
public static class Expect
{
    public static void That(bool holds, string otherwise)
    {
        if (!holds)
            throw new InvalidOperationException(otherwise);
    }
}
