using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>Turns TOML text into a tree whose every value knows its line and column.</summary>
internal sealed class TomlTree
{
    private readonly ProfileProblems _problems;

    private TomlTree(ProfileProblems problems) => _problems = problems;

    /// <summary>Reads the text; complaints go to <paramref name="problems"/>, and what could be read is returned.</summary>
    public static TomlTable Read(string text, ProfileProblems problems)
    {
        var root = new TomlTable(1, 1, string.Empty) { IsDefined = true };
        if (Parse(text, problems) is not { } document)
            return root;
        foreach (var message in document.Diagnostics)
        {
            if (message.Kind == DiagnosticMessageKind.Error)
                problems.Error(message.Span.Start.Line + 1, message.Span.Start.Column + 1, string.Empty, message.Message);
        }

        if (problems.HasErrors)
            return root;

        var tree = new TomlTree(problems);
        tree.AddPairs(root, document.KeyValues);
        foreach (var table in document.Tables)
        {
            if (tree.Open(root, table) is { } target)
                tree.AddPairs(target, table.Items);
        }

        return root;
    }

    // The parser throws on a few kinds of rubbish, such as escapes of characters that do not exist.
    private static DocumentSyntax? Parse(string text, ProfileProblems problems)
    {
        try
        {
            return SyntaxParser.Parse(text, problems.File, validate: true);
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            problems.Error(1, 1, string.Empty, $"is not TOML: {fault.Message.ReplaceLineEndings(" ")}");
            return null;
        }
    }

    private void AddPairs(TomlTable table, SyntaxList<KeyValueSyntax> pairs)
    {
        for (var i = 0; i < pairs.ChildrenCount; i++)
        {
            if (pairs.GetChild(i) is { } pair)
                AddPair(table, pair);
        }
    }

    private void AddPair(TomlTable table, KeyValueSyntax pair)
    {
        if (pair.Key is not { } key || pair.Value is not { } value)
            return;

        var parts = TomlKey.Parts(key);
        foreach (var part in parts[..^1])
        {
            if (Descend(table, part) is not { } next)
                return;
            table = next;
        }

        var last = parts[^1];
        if (table.Entries.ContainsKey(last.Text))
            Refuse(last, table);
        else
            table.Entries[last.Text] = new(last.Line, last.Column, Value(value, TomlKey.Join(table.Path, last.Text)));
    }

    private TomlTable? Open(TomlTable root, TableSyntaxBase syntax)
    {
        if (syntax.Name is not { } name)
            return null;

        var parts = TomlKey.Parts(name);
        var parent = root;
        foreach (var part in parts[..^1])
        {
            if (Descend(parent, part) is not { } next)
                return null;
            parent = next;
        }

        return syntax is TableArraySyntax ? OpenItem(parent, parts[^1]) : OpenTable(parent, parts[^1]);
    }

    private TomlTable? OpenItem(TomlTable parent, TomlKey key)
    {
        var path = TomlKey.Join(parent.Path, key.Text);
        if (!parent.Entries.TryGetValue(key.Text, out var entry))
            parent.Entries[key.Text] = entry = new(key.Line, key.Column, new TomlArray(key.Line, key.Column, path) { IsTables = true });
        if (entry.Value is not TomlArray { IsTables: true } list)
            return Refuse(key, parent);

        var item = new TomlTable(key.Line, key.Column, $"{path}[{list.Items.Count}]") { IsDefined = true };
        list.Items.Add(item);
        return item;
    }

    private TomlTable? OpenTable(TomlTable parent, TomlKey key)
    {
        if (!parent.Entries.TryGetValue(key.Text, out var entry))
            parent.Entries[key.Text] = entry = new(key.Line, key.Column, new TomlTable(key.Line, key.Column, TomlKey.Join(parent.Path, key.Text)));
        if (entry.Value is not TomlTable { IsDefined: false, IsClosed: false } table)
            return Refuse(key, parent);

        table.IsDefined = true;
        return table;
    }

    private TomlTable? Descend(TomlTable parent, TomlKey key)
    {
        if (parent.Entries.TryGetValue(key.Text, out var entry))
        {
            return entry.Value switch
            {
                TomlTable { IsClosed: false } table => table,
                TomlArray { IsTables: true } list => (TomlTable)list.Items[^1],
                _ => Refuse(key, parent),
            };
        }

        var made = new TomlTable(key.Line, key.Column, TomlKey.Join(parent.Path, key.Text));
        parent.Entries[key.Text] = new(key.Line, key.Column, made);
        return made;
    }

    private TomlTable? Refuse(TomlKey key, TomlTable parent)
    {
        _problems.Error(key.Line, key.Column, TomlKey.Join(parent.Path, key.Text), "stands here a second time");
        return null;
    }

    private TomlNode Value(ValueSyntax syntax, string path)
    {
        var (line, column) = (syntax.Span.Start.Line + 1, syntax.Span.Start.Column + 1);
        switch (syntax)
        {
            case StringValueSyntax text:
                return new TomlScalar(line, column, path, text.Value ?? string.Empty);
            case IntegerValueSyntax whole:
                return new TomlScalar(line, column, path, whole.Value);
            case FloatValueSyntax number:
                return new TomlScalar(line, column, path, number.Value);
            case BooleanValueSyntax flag:
                return new TomlScalar(line, column, path, flag.Value);
            case ArraySyntax array:
                return List(array, new TomlArray(line, column, path));
            case InlineTableSyntax inline:
                return Inline(inline, new TomlTable(line, column, path) { IsDefined = true, IsClosed = true });
            default:
                _problems.Error(line, column, path, "dates and times have no meaning in a profile");
                return new TomlScalar(line, column, path, string.Empty);
        }
    }

    private TomlArray List(ArraySyntax syntax, TomlArray list)
    {
        for (var i = 0; i < syntax.Items.ChildrenCount; i++)
        {
            if (syntax.Items.GetChild(i)?.Value is { } value)
                list.Items.Add(Value(value, $"{list.Path}[{list.Items.Count}]"));
        }

        return list;
    }

    private TomlTable Inline(InlineTableSyntax syntax, TomlTable table)
    {
        for (var i = 0; i < syntax.Items.ChildrenCount; i++)
        {
            if (syntax.Items.GetChild(i)?.KeyValue is { } pair)
                AddPair(table, pair);
        }

        return table;
    }
}
