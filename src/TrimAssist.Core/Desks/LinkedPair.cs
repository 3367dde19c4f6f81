namespace TrimAssist.Core.Desks;

/// <summary>Inputs that move together.</summary>
public static class LinkedPair
{
    /// <summary>Both halves of the input's linked pair in order; the input alone where it is not linked.</summary>
    /// <param name="input">The input.</param>
    /// <param name="settings">What the desk last said about an input.</param>
    /// <param name="inputs">How many inputs the desk has.</param>
    public static int[] Of(int input, Func<int, InputSettings> settings, int inputs) =>
        settings(input).LinkedTo is { } other && other != input && other >= 1 && other <= inputs
            ? [Math.Min(input, other), Math.Max(input, other)]
            : [input];
}
