using System.Text.Json;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>Writes a journal as JSON lines: one entry a line, its body as it stands.</summary>
public static class JournalExport
{
    private const int FlushEvery = 512;

    /// <summary>Writes all entries, with the keys <c>position</c>, <c>id</c>, <c>at</c>, <c>desk</c>, <c>kind</c>, <c>bodyVersion</c> and <c>body</c>.</summary>
    /// <returns>How many.</returns>
    public static long Write(IJournalReader journal, Stream target)
    {
        ArgumentNullException.ThrowIfNull(journal);
        ArgumentNullException.ThrowIfNull(target);
        var count = 0L;
        using var line = new Utf8JsonWriter(target);
        foreach (var (position, fact) in journal.ReadAfter(0))
        {
            line.WriteStartObject();
            line.WriteNumber("position", position);
            line.WriteString("id", fact.Id);
            line.WriteString("at", fact.AtUtc.UtcDateTime);
            line.WriteString("desk", fact.Desk);
            line.WriteString("kind", fact.Kind);
            line.WriteNumber("bodyVersion", fact.BodyVersion);
            line.WritePropertyName("body");
            WriteBody(line, fact.Body);
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

    // Bodies may hold line breaks between their tokens; a line of JSON lines may not.
    private static void WriteBody(Utf8JsonWriter line, string body)
    {
        using var document = JsonDocument.Parse(body);
        document.RootElement.WriteTo(line);
    }
}
