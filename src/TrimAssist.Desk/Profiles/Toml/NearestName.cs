namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>Finds what somebody probably meant.</summary>
internal static class NearestName
{
    /// <summary>A second half of a sentence that names the nearest known name; empty where there is none to name.</summary>
    public static string Hint(string given, IReadOnlyCollection<string> known) =>
        known.Count == 0 ? string.Empty : $"; the nearest is {known.MinBy(k => (Distance(given, k), k), NearestFirst.Instance)}";

    /// <summary>The number of letters to add, take away or change (Levenshtein's distance).</summary>
    internal static int Distance(string left, string right)
    {
        var row = new int[right.Length + 1];
        for (var j = 0; j < row.Length; j++)
            row[j] = j;

        for (var i = 1; i <= left.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j < row.Length; j++)
            {
                var change = diagonal + (left[i - 1] == right[j - 1] ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.Min(change, Math.Min(row[j], row[j - 1]) + 1);
            }
        }

        return row[^1];
    }

    private sealed class NearestFirst : IComparer<(int Distance, string Name)>
    {
        public static NearestFirst Instance { get; } = new();

        public int Compare((int Distance, string Name) x, (int Distance, string Name) y) =>
            x.Distance != y.Distance ? x.Distance.CompareTo(y.Distance) : string.CompareOrdinal(x.Name, y.Name);
    }
}
