using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;

namespace TrimAssist.Core.Wording;

/// <summary>
/// Something that the service says: which sentence it is and what fills its places, so that a page can say it in its own language, and
/// its English, which is what every record and every answer holds. The sentences themselves are made in this folder and nowhere else.
/// </summary>
public sealed class Saying : IEquatable<Saying>
{
    private readonly string _english;

    private Saying(string? code, string english, IReadOnlyList<Saying> parts) => (Code, _english, Parts) = (code, english, parts);

    /// <summary>Which sentence it is; <see langword="null"/> for figures, names and whatever else reads alike in every language.</summary>
    public string? Code { get; }

    /// <summary>What fills its places, in the order of the English.</summary>
    public IReadOnlyList<Saying> Parts { get; }

    /// <summary>Words as they stand, which nobody can translate: a name, what a person typed, what an older journal holds.</summary>
    public static Saying Plain(string words) => new(null, words, []);

    /// <summary>A sentence that can be translated. Its code is the name of the member that makes it, which stands among its like.</summary>
    /// <param name="text">Its English.</param>
    /// <param name="code">Filled in by the compiler.</param>
    public static Saying Of(SayingText text, [CallerMemberName] string code = "") => new(code, text.English, text.Parts);

    /// <summary>One sentence after another.</summary>
    public static Saying Both(Saying? first, Saying second) => first is null ? second : Of($"{first} {second}");

    /// <summary>Its English.</summary>
    [return: NotNullIfNotNull(nameof(saying))]
    public static implicit operator string?(Saying? saying) => saying?.ToString();

    /// <summary>Whether both read alike.</summary>
    public static bool operator ==(Saying? left, Saying? right) => Equals(left, right);

    /// <summary>Whether they read differently.</summary>
    public static bool operator !=(Saying? left, Saying? right) => !Equals(left, right);

    /// <summary>Its English.</summary>
    public override string ToString() => _english;

    /// <summary>Two that read alike are the same.</summary>
    public bool Equals(Saying? other) => other is not null && string.Equals(_english, other._english, StringComparison.Ordinal);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as Saying);

    /// <inheritdoc/>
    public override int GetHashCode() => _english.GetHashCode(StringComparison.Ordinal);
}
