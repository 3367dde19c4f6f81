using TrimAssist.Protocols.Osc.Patterns;

namespace TrimAssist.Protocols.Osc;

/// <summary>Matches address patterns: <c>? * [] {}</c> of OSC 1.0 ("OSC Message Dispatching and Pattern Matching") and the <c>//</c> of 1.1, which stands for any depth.</summary>
/// <remarks>
/// The pattern runs as a set of simultaneous positions, so time grows at most with pattern length times address length; nothing backtracks
/// and nothing is allocated. Where OSC is silent: a reversed range holds nothing, <c>[]</c> matches nothing, <c>[!]</c> any one character,
/// wildcards inside braces are plain characters, and a pattern with an unclosed or nested bracket, or a slash inside one, matches nothing.
/// </remarks>
public static class OscPattern
{
    /// <summary>Longest pattern matched, in bytes; a longer one matches nothing.</summary>
    public const int MaxLength = 512;

    /// <summary>Whether the pattern begins with a slash, is well formed and not too long.</summary>
    public static bool IsValid(ReadOnlySpan<byte> pattern)
        => pattern.StartsWith((byte)'/') && pattern.Length <= MaxLength && PatternSteps.TryFind(pattern, stackalloc PatternStep[MaxLength]);

    /// <summary>Whether a pattern, or a plain address, names the method at <paramref name="address"/>.</summary>
    public static bool Matches(ReadOnlySpan<byte> pattern, ReadOnlySpan<byte> address)
    {
        if (!OscAddress.IsPattern(pattern))
            return pattern.SequenceEqual(address);
        if (pattern.Length > MaxLength)
            return false;

        Span<PatternStep> steps = stackalloc PatternStep[pattern.Length];
        if (!PatternSteps.TryFind(pattern, steps))
            return false;

        var run = new PatternRun(pattern, steps);
        var current = new PositionSet(stackalloc ulong[PositionSet.WordsFor(pattern.Length)]);
        var next = new PositionSet(stackalloc ulong[PositionSet.WordsFor(pattern.Length)]);
        run.Start(current);
        foreach (var character in address)
        {
            if (!run.TryAdvance(current, character, next))
                return false;

            var passed = current;
            current = next;
            next = passed;
        }

        return current.Contains(pattern.Length);
    }
}
