using Tomlyn.Syntax;

namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>One part of a dotted key with its place.</summary>
internal readonly record struct TomlKey(string Text, int Line, int Column)
{
    /// <summary>The parts of a dotted key in order; never empty.</summary>
    public static TomlKey[] Parts(KeySyntax key)
    {
        var parts = new TomlKey[1 + key.DotKeys.ChildrenCount];
        parts[0] = Part(key.Key);
        for (var i = 1; i < parts.Length; i++)
            parts[i] = Part(key.DotKeys.GetChild(i - 1)?.Key);
        return parts;
    }

    /// <summary>A key below a table; the table itself where the key is empty.</summary>
    public static string Join(string path, string key) => path.Length == 0 ? key : key.Length == 0 ? path : $"{path}.{key}";

    private static TomlKey Part(BareKeyOrStringValueSyntax? syntax)
    {
        var text = syntax switch
        {
            BareKeySyntax bare => bare.Key?.Text,
            StringValueSyntax quoted => quoted.Value,
            _ => null,
        };
        return new(text ?? string.Empty, (syntax?.Span.Start.Line ?? 0) + 1, (syntax?.Span.Start.Column ?? 0) + 1);
    }
}
