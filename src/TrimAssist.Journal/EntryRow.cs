using System.Globalization;
using TrimAssist.Core.Journal;

namespace TrimAssist.Journal;

/// <summary>An entry as its table holds it.</summary>
internal sealed record EntryRow
{
    /// <summary>The columns by the names of the properties.</summary>
    public const string Columns =
        "position AS Position, id AS Id, at_utc AS AtUtc, desk AS Desk, kind AS Kind, body_version AS BodyVersion, body AS Body";

    /// <summary>Adds a fact unless its id is taken, and answers with its position; with nothing when it is.</summary>
    public const string Insert =
        "INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES (@Id, @AtUtc, @Desk, @Kind, @BodyVersion, @Body) RETURNING position";

    /// <summary>Carries an entry over with its position.</summary>
    public const string Carry =
        "INSERT INTO entry (position, id, at_utc, desk, kind, body_version, body) VALUES (@Position, @Id, @AtUtc, @Desk, @Kind, @BodyVersion, @Body)";

    public long Position { get; init; }

    public required string Id { get; init; }

    public required string AtUtc { get; init; }

    public string? Desk { get; init; }

    public required string Kind { get; init; }

    public long BodyVersion { get; init; }

    public required string Body { get; init; }

    public static EntryRow Of(NewEntry entry, long position = 0) => new()
    {
        Position = position,
        Id = entry.Id.ToString("N"),
        AtUtc = entry.AtUtc.UtcDateTime.ToString("O", CultureInfo.InvariantCulture),
        Desk = entry.Desk,
        Kind = entry.Kind,
        BodyVersion = entry.BodyVersion,
        Body = entry.Body,
    };

    /// <summary>Whether the other row tells the same fact, wherever it stands.</summary>
    public bool IsSameFactAs(EntryRow other) => this with { Position = 0 } == other with { Position = 0 };

    /// <summary>The entry. The table takes any 32 characters for an id and any text for a moment: what is none is told as a fault.</summary>
    public JournalEntry ToEntry()
    {
        var hasId = Guid.TryParseExact(Id, "N", out var id);
        var hasMoment = DateTimeOffset.TryParse(AtUtc, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var at);
        return new(Position, new NewEntry(id, at, Desk, Kind, (int)long.Min(BodyVersion, int.MaxValue), Body))
        {
            Fault = !hasId ? $"Its id \"{Id}\" is none." : !hasMoment ? $"Its moment \"{AtUtc}\" is none." : null,
        };
    }
}
