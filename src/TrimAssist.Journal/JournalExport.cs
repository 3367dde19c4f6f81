using System.Buffers;
using System.Text.Json;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>Writes a journal as JSON lines: one entry a line, its body as it stands.</summary>
public static class JournalExport
{
    private const int FlushEvery = 512;

    /// <summary>
    /// Writes all entries, with the keys <c>position</c>, <c>id</c>, <c>at</c>, <c>desk</c>, <c>kind</c>, <c>bodyVersion</c> and <c>body</c>. An entry
    /// whose id or moment cannot be read has <c>fault</c> beside them; a body that is no JSON is a string, and <c>bodyIsText</c> says so.
    /// </summary>
    /// <returns>How many.</returns>
    public static long Write(IJournalReader journal, Stream target)
    {
        ArgumentNullException.ThrowIfNull(journal);
        ArgumentNullException.ThrowIfNull(target);
        var count = 0L;
        using var line = new Utf8JsonWriter(target);
        foreach (var entry in journal.ReadAfter(0))
        {
            var fact = entry.Fact;
            line.WriteStartObject();
            line.WriteNumber("position", entry.Position);
            line.WriteString("id", fact.Id);
            line.WriteString("at", fact.AtUtc.UtcDateTime);
            line.WriteString("desk", fact.Desk);
            line.WriteString("kind", fact.Kind);
            line.WriteNumber("bodyVersion", fact.BodyVersion);
            WriteBody(line, fact.Body);
            if (entry.Fault is { } fault)
                line.WriteString("fault", fault);
            line.WriteEndObject();
            line.Flush();
            line.Reset();
            target.WriteByte((byte)'\n');
            if (++count % FlushEvery == 0)
                target.Flush();
        }

        target.Flush();
        return count;
    }

    /// <summary>Writes all entries to a file that appears only when it is whole.</summary>
    /// <param name="journal">The journal.</param>
    /// <param name="target">The file; must not exist.</param>
    /// <returns>How many.</returns>
    /// <exception cref="JournalOpenException">The target exists or cannot be written.</exception>
    public static long WriteFile(IJournalReader journal, string target)
    {
        if (File.Exists(target))
            throw new JournalOpenException($"{target} exists already; an export overwrites nothing.");
        var count = 0L;
        try
        {
            WholeFile.Write(target, part =>
            {
                using var stream = new FileStream(part, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
                count = Write(journal, stream);
            });
            return count;
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            throw new JournalOpenException($"{target} cannot be written: {failed.Message}", failed);
        }
    }

    private static void WriteBody(Utf8JsonWriter line, string body)
    {
        if (OnOneLine(body) is { } json)
        {
            line.WritePropertyName("body");
            line.WriteRawValue(json.WrittenSpan, skipInputValidation: true);
            return;
        }

        line.WriteString("body", body);
        line.WriteBoolean("bodyIsText", true);
    }

    // Bodies may hold line breaks between their tokens; a line of JSON lines may not. One that is no JSON, or text with half a character, is none.
    private static ArrayBufferWriter<byte>? OnOneLine(string body)
    {
        try
        {
            var written = new ArrayBufferWriter<byte>();
            using var document = JsonDocument.Parse(body);
            using var writer = new Utf8JsonWriter(written);
            document.RootElement.WriteTo(writer);
            writer.Flush();
            return written;
        }
        catch (Exception broken) when (broken is JsonException or InvalidOperationException)
        {
            return null;
        }
    }
}
