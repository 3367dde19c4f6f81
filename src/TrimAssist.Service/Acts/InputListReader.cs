using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;
using TrimAssist.Core.Acts;

namespace TrimAssist.Service.Acts;

/// <summary>
/// Reads an act's input list: comma, semicolon or tab between the cells, header names loosely matched, lines that begin with #
/// are remarks, of which <c># act: NAME</c>, <c># start: 18:30</c> and <c># desk: ID, ID</c> (or <c>all</c>) are understood.
/// </summary>
internal static class InputListReader
{
    /// <summary>More rows than any desk has inputs.</summary>
    private const int MostRows = 1000;

    /// <summary>Reads a list.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="name">The act's name where the list gives none.</param>
    /// <param name="deskInputs">Number of inputs of the desk.</param>
    public static ListReading Read(ReadOnlyMemory<byte> bytes, string name, int deskInputs)
    {
        var problems = new List<ListProblem>();
        var text = Decode(bytes.Span, problems);
        var remarks = new ListRemarks(text);
        foreach (var problem in remarks.Problems)
            problems.Add(problem);
        using var parser = new CsvParser(new StringReader(text), new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = remarks.Delimiter,
            AllowComments = true,
            Comment = '#',
            IgnoreBlankLines = true,
            TrimOptions = TrimOptions.Trim,
            BadDataFound = bad => problems.Add(new(bad.Context.Parser?.RawRow ?? 0, null, ListSayings.ListQuote)),
        });
        var chains = new List<ListedChain>();
        var lines = ReadLines(parser, deskInputs, chains, problems);
        var act = lines.Count > 0 ? new Act(remarks.Act ?? name, remarks.StartsAt, lines) : null;
        return new(act, [.. problems.OrderBy(problem => problem.Row)], remarks.Desks, chains);
    }

    private static List<ActInput> ReadLines(CsvParser parser, int deskInputs, List<ListedChain> chains, List<ListProblem> problems)
    {
        var lines = new List<ActInput>();
        if (!parser.Read() || parser.Record is not { } header)
        {
            problems.Add(new(1, null, ListSayings.ListEmpty));
            return lines;
        }

        var columns = Columns(header, parser.RawRow, problems);
        if (!columns.ContainsKey(ListColumns.Input))
        {
            problems.Add(new(parser.RawRow, null, ListSayings.ListNoInput("input,name,source,role,player,pair,target_dbfs,allowance_db,note")));
            return lines;
        }

        var rows = new Dictionary<int, ListRow>();
        for (var left = MostRows; left > 0 && parser.Read(); left--)
        {
            var row = new ListRow(parser.RawRow, parser.Record ?? [], columns, problems);
            if (row.Read(deskInputs) is not { } line)
                continue;
            if (!rows.TryAdd(line.Input, row))
            {
                row.Wrong(ListColumns.Input, ListSayings.ListTwice(line.Input));
                continue;
            }

            lines.Add(line);
            if (row.Chain is { } file)
                chains.Add(new(line.Input, parser.RawRow, file));
        }

        return [.. lines.Select(line => WithPair(line, lines, rows[line.Input])).OrderBy(line => line.Input)];
    }

    private static Dictionary<string, (int Index, string Header)> Columns(string[] header, int row, List<ListProblem> problems)
    {
        var columns = new Dictionary<string, (int Index, string Header)>(StringComparer.Ordinal);
        for (var index = 0; index < header.Length; index++)
        {
            var title = header[index].Trim();
            if (ListColumns.Of(title) is not { } column)
            {
                if (title.Length > 0)
                    problems.Add(new(row, title, ListSayings.ListNoColumn));
            }
            else if (!columns.TryAdd(column, (index, title)))
            {
                problems.Add(new(row, title, ListSayings.ListSecond(column)));
            }
        }

        return columns;
    }

    // One half may name the other; both halves naming different ones is no pair.
    private static ActInput WithPair(ActInput line, List<ActInput> lines, ListRow row)
    {
        var other = line.Pair ?? lines.Find(one => one.Pair == line.Input)?.Input;
        if (other is null)
            return line;
        var back = lines.Find(one => one.Input == other)?.Pair;
        if (other != line.Input && (back is null || back == line.Input) && !lines.Exists(one => one.Pair == other && one.Input != line.Input))
            return line with { Pair = other };
        row.Wrong(ListColumns.Pair, ListSayings.ListPair(line.Input, other.Value));
        return line with { Pair = null };
    }

    private static string Decode(ReadOnlySpan<byte> bytes, List<ListProblem> problems)
    {
        if (bytes.StartsWith(Encoding.Unicode.Preamble))
            return Encoding.Unicode.GetString(bytes[2..]);
        if (bytes.StartsWith(Encoding.BigEndianUnicode.Preamble))
            return Encoding.BigEndianUnicode.GetString(bytes[2..]);
        if (bytes.StartsWith(Encoding.UTF8.Preamble))
            bytes = bytes[3..];
        try
        {
            return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            problems.Add(new(1, null, ListSayings.ListLatin));
            return Encoding.Latin1.GetString(bytes);
        }
    }
}
