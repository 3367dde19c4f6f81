using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>A disk that cannot be written is an answer, not an end, and passes when it passes.</summary>
public sealed class DiskTroubleTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_folder_that_cannot_be_made_is_said_at_the_start_and_forgotten_once_it_can()
    {
        var blocked = _folder.File("data");
        await File.WriteAllTextAsync(blocked, "in the way", Cancel);
        await using var journal = SqliteJournal.Open(blocked);
        Assert.NotNull(journal.Trouble);
        Assert.Equal(0, journal.LastPosition);
        Assert.Equal(AppendOutcome.Unavailable, (await journal.AppendAsync(Facts.Numbered(1), Cancel)).Outcome);

        File.Delete(blocked);
        Assert.Equal(AppendOutcome.Appended, (await journal.AppendAsync(Facts.Numbered(1), Cancel)).Outcome);
        Assert.Null(journal.Trouble);
    }

    [Fact]
    public async Task A_full_disk_refuses_with_a_reason_and_takes_facts_again_when_there_is_room()
    {
        using var disk = SmallDisk.Mount(_folder.File("full"));
        await using var journal = SqliteJournal.Open(disk.Path);
        await journal.AppendAsync(Facts.Numbered(1), Cancel);
        disk.Fill("ballast");
        var refused = await journal.AppendAsync(Big(2), Cancel);
        Assert.Equal(AppendOutcome.Unavailable, refused.Outcome);
        Assert.Contains(disk.Path, refused.Reason, StringComparison.Ordinal);
        Assert.Equal(refused.Reason, journal.Trouble);
        Assert.Equal([Facts.Id(1)], journal.ReadAfter(0).Select(entry => entry.Fact.Id));

        File.Delete(Path.Combine(disk.Path, "ballast"));
        Assert.Equal(AppendOutcome.Appended, (await journal.AppendAsync(Big(2), Cancel)).Outcome);
        Assert.Null(journal.Trouble);
        Assert.Equal([Facts.Id(1), Facts.Id(2)], journal.ReadAfter(0).Select(entry => entry.Fact.Id));
    }

    [Fact]
    public async Task A_disk_full_from_the_start_does_not_keep_the_service_from_starting()
    {
        using var disk = SmallDisk.Mount(_folder.File("full"));
        disk.Fill("ballast");
        await using var journal = SqliteJournal.Open(disk.Path);
        Assert.NotNull(journal.Trouble);
        File.Delete(Path.Combine(disk.Path, "ballast"));
        Assert.True((await journal.AppendAsync(Facts.Numbered(1), Cancel)).Durable);
    }

    [Fact]
    public async Task A_disk_that_becomes_read_only_refuses_and_can_still_be_read()
    {
        using var disk = SmallDisk.Mount(_folder.File("fixed"));
        await using (var journal = SqliteJournal.Open(disk.Path))
            await journal.AppendAsync(Facts.Numbered(1), Cancel);
        disk.Remount(readOnly: true);

        await using var opened = SqliteJournal.Open(disk.Path);
        Assert.NotNull(opened.Trouble);
        Assert.Equal(AppendOutcome.Unavailable, (await opened.AppendAsync(Facts.Numbered(2), Cancel)).Outcome);
        Assert.Equal([Facts.Numbered(1)], opened.ReadAfter(0).Select(entry => entry.Fact));

        disk.Remount(readOnly: false);
        Assert.Equal(2, (await opened.AppendAsync(Facts.Numbered(2), Cancel)).Position);
    }

    [Fact]
    public async Task A_journal_deleted_under_the_service_is_never_written_into_the_void()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        await journal.AppendAsync(Facts.Numbered(1), Cancel);
        var database = new JournalFiles(_folder.Path).Database;
        File.Move(database, database + ".away");
        var refused = await journal.AppendAsync(Facts.Numbered(2), Cancel);
        Assert.Equal(AppendOutcome.Unavailable, refused.Outcome);
        Assert.Contains("moved away or deleted", refused.Reason, StringComparison.Ordinal);

        File.Move(database + ".away", database);
        Assert.Equal(2, (await journal.AppendAsync(Facts.Numbered(2), Cancel)).Position);
    }

    private static NewEntry Big(int number) => Facts.Numbered(number) with { Body = $"\"{new string('x', 100_000)}\"" };
}
