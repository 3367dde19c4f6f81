using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;

namespace TrimAssist.Core.Wording;

/// <summary>The English of a sentence as it is written in the code, and what stands in its places. Figures are written alike in every language, with a point.</summary>
[InterpolatedStringHandler]
public readonly ref struct SayingText
{
    private readonly StringBuilder _english;
    private readonly List<Saying> _parts;

    /// <summary>Made by the compiler.</summary>
    public SayingText(int literalLength, int formattedCount) => (_english, _parts) = (new StringBuilder(literalLength), new List<Saying>(formattedCount));

    internal string English => _english.ToString();

    internal IReadOnlyList<Saying> Parts => _parts;

    /// <summary>Words of the sentence itself.</summary>
    public void AppendLiteral(string words) => _english.Append(words);

    /// <summary>A sentence within the sentence.</summary>
    public void AppendFormatted(Saying saying)
    {
        _parts.Add(saying);
        _english.Append(saying);
    }

    /// <summary>A name, or what a person typed.</summary>
    public void AppendFormatted(string words) => AppendFormatted(Saying.Plain(words));

    /// <summary>A figure.</summary>
    public void AppendFormatted<T>(T figure, string? format = null)
        where T : IFormattable => AppendFormatted(Saying.Plain(figure.ToString(format, CultureInfo.InvariantCulture)));
}
