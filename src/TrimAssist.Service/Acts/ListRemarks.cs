using System.Globalization;

namespace TrimAssist.Service.Acts;

/// <summary>What stands in a list outside its table: the remarks that are understood, and what parts the cells.</summary>
internal sealed class ListRemarks
{
    private static readonly char[] Delimiters = [',', ';', '\t'];

    private readonly List<ListProblem> _problems = [];

    public ListRemarks(string text)
    {
        string? header = null;
        using var lines = new StringReader(text);
        for (var row = 1; lines.ReadLine() is { } line; row++)
        {
            if (line.StartsWith('#'))
                Take(line[1..], row);
            else if (line.Trim().Length > 0)
                header ??= line;
        }

        Delimiter = Delimiters.MaxBy(one => header?.Count(letter => letter == one) ?? 0).ToString();
    }

    /// <summary>The act's name.</summary>
    public string? Act { get; private set; }

    /// <summary>When its show begins.</summary>
    public TimeOnly? StartsAt { get; private set; }

    /// <summary>The desks that the list is for, or <c>all</c>; empty where it does not say.</summary>
    public IReadOnlyList<string> Desks { get; private set; } = [];

    /// <summary>What parts the cells: whatever the header has most of.</summary>
    public string Delimiter { get; }

    /// <summary>What is wrong with the remarks.</summary>
    public IReadOnlyList<ListProblem> Problems => _problems;

    private void Take(string remark, int row)
    {
        var colon = remark.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0)
            return;
        var (name, value) = (remark[..colon].Trim(), remark[(colon + 1)..].Trim());
        if (string.Equals(name, "act", StringComparison.OrdinalIgnoreCase) && value.Length > 0)
            Act = value;
        else if (string.Equals(name, "desk", StringComparison.OrdinalIgnoreCase) && value.Length > 0)
            Desks = [.. value.ToLowerInvariant().Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Distinct(StringComparer.Ordinal)];
        else if (string.Equals(name, "start", StringComparison.OrdinalIgnoreCase))
            TakeStart(value, row);
    }

    private void TakeStart(string value, int row)
    {
        if (TimeOnly.TryParseExact(value, ["H:mm", "HH:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var starts))
            StartsAt = starts;
        else
            _problems.Add(new(row, "start", ListSayings.ListStart(value)));
    }
}
