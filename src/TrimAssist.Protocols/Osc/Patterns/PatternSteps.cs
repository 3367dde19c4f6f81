namespace TrimAssist.Protocols.Osc.Patterns;

/// <summary>Tells what each byte of a pattern stands for.</summary>
internal static class PatternSteps
{
    /// <summary>Fills <paramref name="steps"/>, one for each byte; false when a bracket has no partner or holds a bracket or slash.</summary>
    public static bool TryFind(ReadOnlySpan<byte> pattern, Span<PatternStep> steps)
    {
        for (var at = 0; at < pattern.Length; at++)
        {
            switch (pattern[at])
            {
                case (byte)'?':
                    steps[at] = PatternStep.AnyCharacter;
                    break;
                case (byte)'*':
                    steps[at] = PatternStep.AnyText;
                    break;
                case (byte)'/' when pattern[(at + 1)..].StartsWith((byte)'/'):
                    steps[at++] = PatternStep.AnyDepth;
                    steps[at] = PatternStep.AnyDepthRest;
                    break;
                case (byte)'[':
                    if (!TryClose(pattern, at, (byte)']', out var end))
                        return false;
                    steps[at..(end + 1)].Clear();
                    steps[at] = PatternStep.Set;
                    at = end;
                    break;
                case (byte)'{':
                    if (!TryClose(pattern, at, (byte)'}', out end))
                        return false;
                    FindAlternatives(pattern[at..(end + 1)], steps[at..]);
                    at = end;
                    break;
                case (byte)']' or (byte)'}':
                    return false;
                default:
                    steps[at] = PatternStep.Literal;
                    break;
            }
        }

        return true;
    }

    private static void FindAlternatives(ReadOnlySpan<byte> braces, Span<PatternStep> steps)
    {
        for (var i = 0; i < braces.Length; i++)
            steps[i] = braces[i] == (byte)',' ? PatternStep.AlternativeEnd : PatternStep.Literal;
        steps[0] = PatternStep.Alternatives;
        steps[braces.Length - 1] = PatternStep.AlternativeEnd;
    }

    private static bool TryClose(ReadOnlySpan<byte> pattern, int open, byte closing, out int end)
    {
        end = open + 1 + pattern[(open + 1)..].IndexOfAny("[]{}/"u8);
        return end > open && pattern[end] == closing;
    }
}
