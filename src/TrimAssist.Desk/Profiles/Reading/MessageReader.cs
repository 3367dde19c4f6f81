using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Toml;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads addresses, arguments and constants.</summary>
internal static class MessageReader
{
    private const int MostArguments = 32;

    /// <summary>An address template from a node.</summary>
    public static AddressTemplate? Address(TableReader table, TomlNode? node)
    {
        if (node is null || table.AsText(node) is not { } text)
            return null;
        var template = AddressTemplate.Parse(text, out var fault);
        if (fault is not null)
            table.Problems.Error(node, $"\"{text}\" {fault}");
        return template;
    }

    /// <summary>The list under <c>arguments</c>; <see langword="null"/> where the key is absent.</summary>
    public static IReadOnlyList<ArgumentTemplate>? Arguments(TableReader table, bool valueAllowed)
    {
        if (table.List("arguments") is not { } nodes)
            return null;
        if (nodes.Count > MostArguments)
            table.Problems.Error(nodes[MostArguments], $"is one of more than {MostArguments} arguments");

        List<ArgumentTemplate> arguments = [];
        foreach (var node in nodes)
        {
            if (Argument(table, node) is not { } argument)
                continue;
            if (argument.IsValue && !valueAllowed)
                table.Problems.Error(node, "{value} belongs to a control's own arguments: this message must not set anything");
            arguments.Add(argument);
        }

        return arguments;
    }

    /// <summary>A constant: a whole number travels as int, one with a decimal point as float, true and false as T and F.</summary>
    public static WireValue? Constant(TableReader table, TomlNode? node)
    {
        switch (node)
        {
            case null:
                return null;
            case TomlScalar { Value: string text }:
                return new(WireType.Text, 0, text);
            case TomlScalar { Value: bool flag }:
                return new(WireType.Flag, flag ? 1 : 0);
            case TomlScalar { Value: long and >= int.MinValue and <= int.MaxValue and var whole }:
                return new(WireType.Whole, whole);
            case TomlScalar { Value: double number } when double.IsFinite((float)number):
                return new(WireType.Real, number);
            case TomlScalar { Value: long or double }:
                table.Problems.Error(node, "does not fit into 32 bits");
                return null;
            default:
                table.Problems.Error(node, $"must be a number, a text, true or false, not {node.Kind}");
                return null;
        }
    }

    private static ArgumentTemplate? Argument(TableReader table, TomlNode node)
    {
        if (node is not TomlScalar { Value: string text })
            return Constant(table, node) is { } constant ? ArgumentTemplate.Of(constant) : null;
        var argument = ArgumentTemplate.Parse(text, out var fault);
        if (fault is not null)
            table.Problems.Error(node, $"\"{text}\" {fault}");
        return argument;
    }
}
