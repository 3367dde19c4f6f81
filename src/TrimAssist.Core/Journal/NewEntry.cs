namespace TrimAssist.Core.Journal;

/// <summary>A fact on its way into the journal.</summary>
/// <param name="Id">The fact's own id: writing it again under the same id is harmless.</param>
/// <param name="AtUtc">When it happened.</param>
/// <param name="Desk">The desk it is about; <see langword="null"/> where it is about none.</param>
/// <param name="Kind">What kind of fact.</param>
/// <param name="BodyVersion">The version of the body's form.</param>
/// <param name="Body">The fact as JSON.</param>
public sealed record NewEntry(Guid Id, DateTimeOffset AtUtc, string? Desk, string Kind, int BodyVersion, string Body);

/// <summary>A fact in the journal.</summary>
/// <param name="Position">Its place: rising, never used twice.</param>
/// <param name="Fact">The fact.</param>
public sealed record JournalEntry(long Position, NewEntry Fact)
{
    /// <summary>What is wrong with the entry itself, in one sentence: its id or its moment cannot be read, and stand empty. <see langword="null"/> where nothing is.</summary>
    public string? Fault { get; init; }
}
