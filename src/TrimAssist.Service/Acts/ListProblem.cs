using TrimAssist.Core.Acts;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Acts;

/// <summary>Something wrong in an input list. A row with a problem that matters is left out; the rest goes on.</summary>
/// <param name="Row">The line of the file, from 1.</param>
/// <param name="Column">The column as the list calls it; <see langword="null"/> for the row as a whole.</param>
/// <param name="Text">What is wrong and what becomes of it.</param>
public sealed record ListProblem(int Row, string? Column, Saying Text)
{
    /// <inheritdoc/>
    public override string ToString() => Column is null ? $"row {Row}: {Text}" : $"row {Row}, column {Column}: {Text}";
}

/// <summary>An input list as it was read.</summary>
/// <param name="Act">The act; <see langword="null"/> where nothing in it can be used.</param>
/// <param name="Problems">What is wrong, row by row.</param>
/// <param name="Desks">The desks that the list says it is for, or <c>all</c>; empty where it says nothing.</param>
/// <param name="Chains">The chains' files that it names.</param>
internal sealed record ListReading(Act? Act, IReadOnlyList<ListProblem> Problems, IReadOnlyList<string> Desks, IReadOnlyList<ListedChain> Chains);
