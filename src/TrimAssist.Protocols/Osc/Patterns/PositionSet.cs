using System.Numerics;

namespace TrimAssist.Protocols.Osc.Patterns;

/// <summary>A set of positions in a pattern, its end included, as bits in the caller's memory.</summary>
internal readonly ref struct PositionSet(Span<ulong> words)
{
    private const int BitsPerWord = 64;

    private readonly Span<ulong> _words = words;

    /// <summary>How many words hold the positions of a pattern this long.</summary>
    public static int WordsFor(int patternLength) => (patternLength / BitsPerWord) + 1;

    public void Clear() => _words.Clear();

    public void Add(int position) => _words[position / BitsPerWord] |= 1UL << position;

    public bool Contains(int position) => (_words[position / BitsPerWord] & (1UL << position)) != 0;

    /// <summary>The first position in the set from <paramref name="position"/> on; -1 for none.</summary>
    public int NextFrom(int position)
    {
        var index = position / BitsPerWord;
        if (index >= _words.Length)
            return -1;

        var word = _words[index] & (ulong.MaxValue << position);
        while (word == 0)
        {
            if (++index == _words.Length)
                return -1;
            word = _words[index];
        }

        return (index * BitsPerWord) + BitOperations.TrailingZeroCount(word);
    }
}
