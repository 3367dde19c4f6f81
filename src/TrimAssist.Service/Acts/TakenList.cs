using TrimAssist.Core.Acts;

namespace TrimAssist.Service.Acts;

/// <summary>What became of an input list that was handed in.</summary>
/// <param name="Act">The act; <see langword="null"/> where nothing in the list can be used.</param>
/// <param name="HadRoom">Whether the running order had room for it.</param>
/// <param name="Problems">What is wrong, row by row.</param>
public sealed record TakenList(Act? Act, bool HadRoom, IReadOnlyList<ListProblem> Problems);
