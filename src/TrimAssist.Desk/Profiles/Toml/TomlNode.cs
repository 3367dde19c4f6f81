namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>A value of a TOML document with its place, so that every later complaint can point at it.</summary>
/// <param name="Line">Line of the value, from 1.</param>
/// <param name="Column">Column of the value, from 1.</param>
/// <param name="Path">The key with its tables.</param>
internal abstract record TomlNode(int Line, int Column, string Path)
{
    /// <summary>What it is, in words.</summary>
    public abstract string Kind { get; }
}

/// <summary>A string, integer, number or boolean.</summary>
internal sealed record TomlScalar(int Line, int Column, string Path, object Value) : TomlNode(Line, Column, Path)
{
    public override string Kind => Value switch
    {
        string => "a text",
        bool => "true or false",
        long => "a whole number",
        _ => "a number",
    };
}

/// <summary>An array of anything.</summary>
internal sealed record TomlArray(int Line, int Column, string Path) : TomlNode(Line, Column, Path)
{
    public List<TomlNode> Items { get; } = [];

    /// <summary>Whether it was written as <c>[[…]]</c>, so that further tables may be added.</summary>
    public bool IsTables { get; init; }

    public override string Kind => IsTables ? "a list of tables" : "a list";
}

/// <summary>A table; its entries keep the place of their key beside that of their value.</summary>
internal sealed record TomlTable(int Line, int Column, string Path) : TomlNode(Line, Column, Path)
{
    public Dictionary<string, TomlEntry> Entries { get; } = new(StringComparer.Ordinal);

    /// <summary>Whether the file spelled the table out: a header of its own, or an inline table.</summary>
    public bool IsDefined { get; set; }

    /// <summary>Whether nothing may be added any more, as with inline tables.</summary>
    public bool IsClosed { get; set; }

    public override string Kind => "a table";
}

/// <summary>A key's place and its value.</summary>
internal sealed record TomlEntry(int Line, int Column, TomlNode Value);
