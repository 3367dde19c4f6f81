namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>Takes typed values out of one table, remembers which keys were asked for, and refuses the others.</summary>
internal sealed class TableReader(TomlTable table, ProfileProblems problems)
{
    private readonly List<string> _known = [];

    /// <summary>The table.</summary>
    public TomlTable Table { get; } = table;

    /// <summary>Where complaints go.</summary>
    public ProfileProblems Problems { get; } = problems;

    /// <summary>Whether the file has the key.</summary>
    public bool Has(string key) => Table.Entries.ContainsKey(key);

    /// <summary>The value of a key, of any kind.</summary>
    public TomlNode? Node(string key)
    {
        if (!_known.Contains(key, StringComparer.Ordinal))
            _known.Add(key);
        return Table.Entries.GetValueOrDefault(key)?.Value;
    }

    /// <summary>The value of a key that must be there.</summary>
    public TomlNode? Required(string key, string meaning)
    {
        var node = Node(key);
        if (node is null)
            Problems.Error(Table.Line, Table.Column, TomlKey.Join(Table.Path, key), $"is missing: {meaning}");
        return node;
    }

    /// <summary>A text of 1 to 200 characters.</summary>
    public string? Text(string key) => Node(key) is { } node ? AsText(node) : null;

    /// <summary>A text of 1 to 200 characters that must be there.</summary>
    public string? RequiredText(string key, string meaning) => Required(key, meaning) is { } node ? AsText(node) : null;

    /// <summary>The node as a text.</summary>
    public string? AsText(TomlNode node)
    {
        if (node is TomlScalar { Value: string text })
        {
            if (text.Length is > 0 and <= 200)
                return text;
            Problems.Error(node, text.Length == 0 ? "must not be empty" : "is longer than 200 characters");
            return null;
        }

        Problems.Error(node, $"must be a text in quotation marks, not {node.Kind}");
        return null;
    }

    /// <summary>A whole number within bounds.</summary>
    public int? Whole(string key, int min, int max) => Node(key) is { } node ? AsWhole(node, min, max) : null;

    /// <summary>The node as a whole number within bounds.</summary>
    public int? AsWhole(TomlNode node, int min, int max)
    {
        if (node is not TomlScalar { Value: long value })
            Problems.Error(node, $"must be a whole number, not {node.Kind}");
        else if (value < min || value > max)
            Problems.Error(node, $"must lie between {min} and {max}, not at {value}");
        else
            return (int)value;
        return null;
    }

    /// <summary>A number within bounds; whole numbers count as numbers.</summary>
    public double? Number(string key, double min, double max) => Node(key) is { } node ? AsNumber(node, min, max) : null;

    /// <summary>The node as a number within bounds.</summary>
    public double? AsNumber(TomlNode node, double min, double max)
    {
        double value;
        switch (node)
        {
            case TomlScalar { Value: long whole }:
                value = whole;
                break;
            case TomlScalar { Value: double number }:
                value = number;
                break;
            default:
                Problems.Error(node, $"must be a number, not {node.Kind}");
                return null;
        }

        if (value >= min && value <= max)
            return value;
        Problems.Error(node, $"must lie between {min:0.###} and {max:0.###}, not at {value}");
        return null;
    }

    /// <summary>True or false.</summary>
    public bool? Flag(string key)
    {
        var node = Node(key);
        if (node is null or TomlScalar { Value: bool })
            return (bool?)((TomlScalar?)node)?.Value;
        Problems.Error(node, $"must be true or false, not {node.Kind}");
        return null;
    }

    /// <summary>One of a few words.</summary>
    public T? Choice<T>(string key, params ReadOnlySpan<(string Word, T Value)> choices)
        where T : struct
    {
        if (Node(key) is not { } node || AsText(node) is not { } text)
            return null;

        List<string> words = [];
        foreach (var (word, value) in choices)
        {
            if (string.Equals(word, text, StringComparison.Ordinal))
                return value;
            words.Add(word);
        }

        Problems.Error(node, $"\"{text}\" is none of {string.Join(", ", words)}{NearestName.Hint(text, words)}");
        return null;
    }

    /// <summary>The items of a list.</summary>
    public IReadOnlyList<TomlNode>? List(string key)
    {
        var node = Node(key);
        if (node is null or TomlArray)
            return ((TomlArray?)node)?.Items;
        Problems.Error(node, $"must be a list in square brackets, not {node.Kind}");
        return null;
    }

    /// <summary>A list of texts.</summary>
    public IReadOnlyList<string>? Texts(string key) => List(key) is { } items ? [.. items.Select(AsText).OfType<string>()] : null;

    /// <summary>Two rising numbers within bounds.</summary>
    public (double Low, double High)? Range(string key, double min, double max)
    {
        if (Node(key) is not { } node)
            return null;
        if (node is not TomlArray { Items: [var low, var high] })
        {
            Problems.Error(node, "must be a list of two numbers, the lower one first");
            return null;
        }

        if (AsNumber(low, min, max) is not { } first || AsNumber(high, min, max) is not { } second)
            return null;
        if (first < second)
            return (first, second);
        Problems.Error(node, "the first number must be lower than the second");
        return null;
    }

    /// <summary>A table below this one.</summary>
    public TableReader? Inner(string key)
    {
        var node = Node(key);
        if (node is TomlTable inner)
            return new(inner, Problems);
        if (node is not null)
            Problems.Error(node, $"must be a table, not {node.Kind}");
        return null;
    }

    /// <summary>The tables of a list of tables.</summary>
    public IReadOnlyList<TableReader> Tables(string key)
    {
        var node = Node(key);
        if (node is TomlArray list && list.Items.TrueForAll(i => i is TomlTable))
            return [.. list.Items.Select(i => new TableReader((TomlTable)i, Problems))];
        if (node is not null)
            Problems.Error(node, $"must be written as [[{key}]]");
        return [];
    }

    /// <summary>Refuses every key that nobody asked for, naming the nearest one that exists.</summary>
    public void RefuseUnknown(params ReadOnlySpan<string> alsoKnown)
    {
        _known.AddRange(alsoKnown);
        foreach (var (key, entry) in Table.Entries)
        {
            if (!_known.Contains(key, StringComparer.Ordinal))
                Problems.Error(entry.Line, entry.Column, TomlKey.Join(Table.Path, key), $"is no key of a profile{NearestName.Hint(key, _known)}");
        }
    }
}
