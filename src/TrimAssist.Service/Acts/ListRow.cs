using System.Globalization;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Acts;

/// <summary>One row of an input list on its way to be a line of the act. Names what is wrong with each cell.</summary>
internal sealed class ListRow(int row, string[] cells, IReadOnlyDictionary<string, (int Index, string Header)> columns, List<ListProblem> problems)
{
    private const int LongestText = 200;

    /// <summary>Reads the row; <see langword="null"/> where it cannot be used.</summary>
    public ActInput? Read(int deskInputs)
    {
        var before = problems.Count;
        if (Whole(ListColumns.Input, deskInputs) is not { } input)
        {
            if (problems.Count == before)
                Wrong(ListColumns.Input, ListSayings.ListBlank);
            return null;
        }

        var source = Text(ListColumns.Source);
        if (source is not null && !SourceKinds.IsKnown(source))
            Wrong(ListColumns.Source, ListSayings.ListSource(source));
        if (Role() is not { } role)
            return null;
        return new ActInput(
            input, Text(ListColumns.Name), source, role, Text(ListColumns.Player), Whole(ListColumns.Pair, deskInputs),
            Level(ListColumns.Target, -60, 0) is { } target ? new Dbfs(target) : null, Level(ListColumns.Allowance, -20, 40), Text(ListColumns.Note));
    }

    /// <summary>The file of the input's chain.</summary>
    public string? Chain => Text(ListColumns.Chain);

    /// <summary>Names something wrong with a cell of this row.</summary>
    public void Wrong(string column, Saying text) => problems.Add(new(row, columns.TryGetValue(column, out var at) ? at.Header : column, text));

    private string? Text(string column)
    {
        if (!columns.TryGetValue(column, out var at) || at.Index >= cells.Length || cells[at.Index].Trim() is not { Length: > 0 } text)
            return null;
        if (text.Length <= LongestText)
            return text;
        Wrong(column, ListSayings.ListLong(LongestText));
        return text[..LongestText];
    }

    private int? Whole(string column, int most)
    {
        if (Text(column) is not { } text)
            return null;
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1 && number <= most)
            return number;
        Wrong(column, column is ListColumns.Input ? ListSayings.ListInputOut(text, most) : ListSayings.ListInputIgnored(text, most));
        return null;
    }

    private double? Level(string column, double least, double most)
    {
        if (Text(column) is not { } text)
            return null;
        // A decimal comma and a typeset minus are how people write numbers; no level needs a thousands mark.
        var spelled = text.Replace(',', '.').Replace('−', '-');
        if (double.TryParse(spelled, NumberStyles.Float, CultureInfo.InvariantCulture, out var db) && db >= least && db <= most)
            return db;
        Wrong(column, ListSayings.ListLevel(text, least, most));
        return null;
    }

    private SourceRole? Role()
    {
        if (Text(ListColumns.Role) is not { } text)
            return SourceRole.Performer;
        if (Enum.TryParse<SourceRole>(text, ignoreCase: true, out var role) && !int.TryParse(text, out _))
            return role;
        // A role that is not understood must not make a proposal that the right one forbids.
        Wrong(ListColumns.Role, ListSayings.ListRole(text, string.Join(", ", Enum.GetNames<SourceRole>()).ToLowerInvariant()));
        return null;
    }
}
