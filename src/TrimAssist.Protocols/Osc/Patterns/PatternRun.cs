namespace TrimAssist.Protocols.Osc.Patterns;

/// <summary>Moves a set of positions in a pattern over an address, character by character.</summary>
internal readonly ref struct PatternRun(ReadOnlySpan<byte> pattern, ReadOnlySpan<PatternStep> steps)
{
    private readonly ReadOnlySpan<byte> _pattern = pattern;
    private readonly ReadOnlySpan<PatternStep> _steps = steps;

    /// <summary>Puts the positions before the first character into an empty set.</summary>
    public void Start(PositionSet positions)
    {
        positions.Add(0);
        AddReachableWithoutCharacter(positions);
    }

    /// <summary>Fills <paramref name="next"/> with the positions after one more character; false when there is none.</summary>
    public bool TryAdvance(PositionSet current, byte character, PositionSet next)
    {
        next.Clear();
        for (var at = current.NextFrom(0); at >= 0 && at < _pattern.Length; at = current.NextFrom(at + 1))
            Advance(at, character, next);

        AddReachableWithoutCharacter(next);
        return next.NextFrom(0) >= 0;
    }

    private void Advance(int at, byte character, PositionSet next)
    {
        var isSlash = character == (byte)'/';
        switch (_steps[at])
        {
            case PatternStep.Literal when _pattern[at] == character:
            case PatternStep.AnyCharacter when !isSlash:
                next.Add(at + 1);
                break;
            case PatternStep.AnyText when !isSlash:
                next.Add(at);
                break;
            case PatternStep.Set when !isSlash:
                var end = at + 1 + _pattern[(at + 1)..].IndexOf((byte)']');
                if (Holds(_pattern[(at + 1)..end], character))
                    next.Add(end + 1);
                break;
            case PatternStep.AnyDepth when isSlash:
                next.Add(at + 1);
                next.Add(at + 2);
                break;
            case PatternStep.AnyDepthRest:
                next.Add(at);
                if (isSlash)
                    next.Add(at + 1);
                break;
        }
    }

    // Every such position lies further on, so one pass in order is enough.
    private void AddReachableWithoutCharacter(PositionSet positions)
    {
        for (var at = positions.NextFrom(0); at >= 0 && at < _pattern.Length; at = positions.NextFrom(at + 1))
        {
            if (_steps[at] == PatternStep.AnyText)
                positions.Add(at + 1);
            else if (_steps[at] == PatternStep.Alternatives)
                AddAlternatives(at, positions);
            else if (_steps[at] == PatternStep.AlternativeEnd)
                positions.Add(at + 1 + _pattern[at..].IndexOf((byte)'}'));
        }
    }

    private void AddAlternatives(int at, PositionSet positions)
    {
        positions.Add(at + 1);
        for (var i = at + 1; _pattern[i] != (byte)'}'; i++)
        {
            if (_steps[i] == PatternStep.AlternativeEnd)
                positions.Add(i + 1);
        }
    }

    // OSC 1.0: "-" between two characters is a range in ASCII order, last it is itself; "!" first negates.
    private static bool Holds(ReadOnlySpan<byte> set, byte character)
    {
        var negated = set.StartsWith((byte)'!');
        var members = negated ? set[1..] : set;
        for (var i = 0; i < members.Length; i++)
        {
            if (i + 2 < members.Length && members[i + 1] == (byte)'-')
            {
                if (character >= members[i] && character <= members[i + 2])
                    return !negated;
                i += 2;
            }
            else if (members[i] == character)
            {
                return !negated;
            }
        }

        return negated;
    }
}
