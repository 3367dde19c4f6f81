using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using TrimAssist.Core.Journal;

namespace TrimAssist.Service.JournalLines;

/// <summary>The form of a kind of line, as far as somebody reads it.</summary>
internal interface ILineForm
{
    /// <summary>Why a line is not of this form, in one sentence; <see langword="null"/> where it is.</summary>
    string? WhyNot(JournalEntry line);
}

/// <summary>
/// Reads the body of a line, or says why it cannot: a line may have been written by hand, by a later version, or damaged with its disk.
/// A body is read by stricter rules than it is written by, so that what is read can be built upon: what may not be absent is there, nothing in
/// a list is null, words of enumerations are known ones, numbers are such as a desk could mean.
/// </summary>
/// <remarks>
/// A member that is added to a body later must be nullable or have a default, for the lines from before are read as ever.
/// </remarks>
internal sealed class LineForm<T> : ILineForm
    where T : class
{
    /// <summary>The form's version; see <see cref="NewEntry.BodyVersion"/>.</summary>
    private const int Version = 1;

    private readonly JsonTypeInfo<T> _type;

    private readonly Func<T, string?> _wrong;

    /// <summary>Makes a form.</summary>
    /// <param name="written">The rules that the bodies are written by.</param>
    /// <param name="wrong">What is wrong with a body that is good JSON, in one sentence; <see langword="null"/> where nothing can be.</param>
    public LineForm(JsonSerializerOptions written, Func<T, string?>? wrong = null)
    {
        _type = (JsonTypeInfo<T>)StricterThan(written).GetTypeInfo(typeof(T));
        _wrong = wrong ?? (static _ => null);
    }

    /// <summary>Reads a line.</summary>
    /// <param name="line">The line.</param>
    /// <param name="reason">Why it cannot be read, in one sentence; <see langword="null"/> where it can.</param>
    public T? Read(JournalEntry line, out string? reason)
    {
        reason = line.Fault ?? (line.Fact.BodyVersion > Version ? $"It is of version {line.Fact.BodyVersion}; this program reads version {Version}." : null);
        if (reason is not null)
            return null;
        try
        {
            var body = JsonSerializer.Deserialize(line.Fact.Body, _type);
            reason = body is null ? "It says null." : _wrong(body);
            return reason is null ? body : null;
        }
        catch (JsonException broken)
        {
            // Behind the path stand places in a text that nobody sees.
            reason = broken.Message.Split(" | ")[0];
            return null;
        }
    }

    /// <inheritdoc/>
    public string? WhyNot(JournalEntry line)
    {
        Read(line, out var reason);
        return reason;
    }

    private static JsonSerializerOptions StricterThan(JsonSerializerOptions written)
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
            type.OnDeserialized = list => RefuseNull((System.Collections.IEnumerable)list);
    }

    private static void RefuseNull(System.Collections.IEnumerable list)
    {
        foreach (var one in list)
            _ = one ?? throw new JsonException("A list holds null.");
    }
}
