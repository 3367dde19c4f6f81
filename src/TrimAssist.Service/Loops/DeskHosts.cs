namespace TrimAssist.Service.Loops;

/// <summary>Every desk that this service looks after. The set is fixed at start.</summary>
/// <param name="all">The desks.</param>
public sealed class DeskHosts(IReadOnlyList<DeskHost> all)
{
    /// <summary>The desks, in the order in which they were given.</summary>
    public IReadOnlyList<DeskHost> All { get; } = all;

    /// <summary>The desk with this id; <see langword="null"/> where there is none.</summary>
    public DeskHost? Find(string id) => All.FirstOrDefault(desk => string.Equals(desk.Description.Id, id, StringComparison.Ordinal));
}
