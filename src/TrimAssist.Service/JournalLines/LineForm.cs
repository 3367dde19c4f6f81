using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using TrimAssist.Core.Journal;

namespace TrimAssist.Service.JournalLines;

/// <summary>The form of a kind of line, as far as somebody reads it.</summary>
internal interface ILineForm
{
    /// <summary>Why a line is not of this form, in one sentence; <see langword="null"/> where it is.</summary>
    string? WhyNot(JournalEntry line);
}

/// <summary>Reads the body of a line, or says why it cannot: a line may have been written by hand, by a later version, or damaged with its disk.</summary>
/// <param name="rules">The rules by which bodies are read; see <see cref="LineRules"/>.</param>
/// <param name="wrong">What is wrong with a body that is good JSON, in one sentence; <see langword="null"/> where nothing can be.</param>
internal sealed class LineForm<T>(JsonSerializerOptions rules, Func<T, string?>? wrong = null) : ILineForm
    where T : class
{
    /// <summary>The form's version; see <see cref="NewEntry.BodyVersion"/>.</summary>
    private const int Version = 1;

    // Not before the first line: a start with an empty journal has better things to do.
    private JsonTypeInfo<T> Type => field ??= (JsonTypeInfo<T>)rules.GetTypeInfo(typeof(T));

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
            var body = JsonSerializer.Deserialize(line.Fact.Body, Type);
            reason = body is null ? "It says null." : wrong?.Invoke(body);
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
}
