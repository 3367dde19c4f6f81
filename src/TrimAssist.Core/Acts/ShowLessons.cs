namespace TrimAssist.Core.Acts;

/// <summary>
/// What shows teach: one lesson a show, player and kind of source. A player on two inputs, and a list that two desks watched, heard the
/// same night's playing twice; counted twice it would look like twice the evidence.
/// </summary>
public static class ShowLessons
{
    /// <summary>Two desks that an act came on at within this time watched the same show.</summary>
    private static readonly TimeSpan SameShow = TimeSpan.FromHours(2);

    /// <summary>The lessons, the oldest first.</summary>
    public static IReadOnlyList<HeldBack> Of(IEnumerable<ShowInput> shows) =>
    [
        .. shows.Where(show => show.Teaches is not null)
            .GroupBy(show => (Act: show.Act.ToUpperInvariant(), show.Teaches!.Player, show.Teaches.Kind))
            .SelectMany(lines => ByShow([.. lines.OrderBy(line => line.BegunAt)]))
            .Select(One)
            .OrderBy(lesson => lesson.At),
    ];

    private static List<List<ShowInput>> ByShow(IReadOnlyList<ShowInput> lines)
    {
        List<List<ShowInput>> shows = [];
        foreach (var line in lines)
        {
            if (shows is [.., var last] && Belongs(line, last))
                last.Add(line);
            else
                shows.Add([line]);
        }

        return shows;
    }

    // On one desk every coming on is a show of its own.
    private static bool Belongs(ShowInput line, List<ShowInput> show) =>
        show.Find(other => string.Equals(other.Desk, line.Desk, StringComparison.Ordinal)) is { } here
            ? here.BegunAt == line.BegunAt
            : line.BegunAt - show[0].BegunAt < SameShow;

    // What was heard to its end is believed before what is only known to have been at least so loud.
    private static HeldBack One(List<ShowInput> lines)
    {
        var told = lines.ConvertAll(line => line.Teaches!);
        var exact = told.FindAll(one => !one.AtLeast);
        return exact.Count > 0
            ? exact[0] with { AboveCheckDb = exact.Average(one => one.AboveCheckDb) }
            : told.MaxBy(one => one.AboveCheckDb)!;
    }
}
