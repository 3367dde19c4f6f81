using TrimAssist.Core.Acts;

namespace TrimAssist.Service.Acts;

/// <summary>What became of an input list that was handed in.</summary>
public enum ListFate
{
    /// <summary>It is in the running order, and written down.</summary>
    Taken,

    /// <summary>Nothing in it can be used.</summary>
    NothingUsable,

    /// <summary>The running order has no room for it.</summary>
    NoRoom,

    /// <summary>The journal could not take it. It would be gone after a restart, so nothing was changed.</summary>
    NotWritten,
}

/// <summary>An input list that was handed in, and what became of it.</summary>
/// <param name="Fate">What became of it.</param>
/// <param name="Act">The act; <see langword="null"/> where nothing in the list can be used.</param>
/// <param name="Problems">What is wrong, row by row.</param>
public sealed record TakenList(ListFate Fate, Act? Act, IReadOnlyList<ListProblem> Problems);
