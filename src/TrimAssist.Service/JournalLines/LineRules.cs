using System.Collections;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;

namespace TrimAssist.Service.JournalLines;

/// <summary>
/// The rules by which the bodies of lines are read: stricter than those they are written by, so that what is read can be built upon. What may not
/// be absent is there, nothing in a list is null, words of enumerations are known ones, numbers are such as a desk could mean.
/// </summary>
/// <remarks>A member that is added to a body later must be nullable or have a default, for the lines from before are read as ever.</remarks>
internal static class LineRules
{
    /// <summary>The rules for bodies that are written by these.</summary>
    public static JsonSerializerOptions StricterThan(JsonSerializerOptions written)
    {
        var rules = new JsonSerializerOptions(written)
        {
            RespectNullableAnnotations = true,
            TypeInfoResolver = written.TypeInfoResolver!.WithAddedModifier(RequireWhatMayNotBeAbsent).WithAddedModifier(RefuseNullInLists),
        };
        rules.Converters.Add(new LineNumberJson());
        // Where the rules bring their own words, those come first.
        rules.Converters.Add(new JsonStringEnumConverter(namingPolicy: null, allowIntegerValues: false));
        rules.MakeReadOnly();
        return rules;
    }

    private static void RequireWhatMayNotBeAbsent(JsonTypeInfo type)
    {
        foreach (var member in type.Properties)
            member.IsRequired |= member.AssociatedParameter is { HasDefaultValue: false, IsNullable: false };
    }

    private static void RefuseNullInLists(JsonTypeInfo type)
    {
        if (type.Kind == JsonTypeInfoKind.Enumerable)
            type.OnDeserialized = static list => RefuseNull((IEnumerable)list);
    }

    private static void RefuseNull(IEnumerable list)
    {
        foreach (var one in list)
            _ = one ?? throw new JsonException("A list holds null.");
    }
}
