using CsCheck;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>
/// What can be tested of a power cut without cutting the power: the files as they stand after every acknowledged write, and
/// with whatever a torn write may have left behind it. What the disk does with a flush it was asked for is not seen here.
/// </summary>
public sealed class PowerCutTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private JournalFiles Files => new(_folder.Path);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task The_files_after_every_acknowledged_write_hold_all_that_was_acknowledged()
    {
        // Long enough that the write-ahead log is folded into the database several times on the way.
        await using var journal = SqliteJournal.Open(_folder.Path);
        for (var number = 1; number <= 60; number++)
        {
            await journal.AppendAsync(Long(number), Cancel);
            using var cut = new TemporaryFolder();
            CopyTo(cut, File.ReadAllBytes(Files.WriteAheadLog));
            await using var after = SqliteJournal.Open(cut.Path);
            Assert.Equal(Enumerable.Range(1, number).Select(Facts.Id), after.ReadAfter(0).Select(entry => entry.Fact.Id));
            Assert.Equal(number + 1, (await after.AppendAsync(Long(number + 1), Cancel)).Position);
        }
    }

    [Fact]
    public async Task A_write_torn_at_any_byte_loses_nothing_acknowledged_and_invents_nothing()
    {
        const int writes = 12;
        var acknowledgedAt = new int[writes + 1];
        await using var journal = SqliteJournal.Open(_folder.Path);
        acknowledgedAt[0] = File.ReadAllBytes(Files.WriteAheadLog).Length;
        for (var number = 1; number <= writes; number++)
        {
            await journal.AppendAsync(Facts.Numbered(number), Cancel);
            acknowledgedAt[number] = File.ReadAllBytes(Files.WriteAheadLog).Length;
        }

        var log = File.ReadAllBytes(Files.WriteAheadLog);
        Gen.Select(Gen.Int[acknowledgedAt[0], log.Length], Gen.Byte.Array[0, 5000]).Sample(
            (length, rubbish) =>
            {
                using var cut = new TemporaryFolder();
                CopyTo(cut, [.. log.AsSpan(0, length), .. rubbish]);
                var found = new SqliteJournalReader(cut.Path).ReadAfter(0).Select(entry => entry.Fact).ToArray();
                var acknowledged = acknowledgedAt.Count(at => at <= length) - 1;
                Assert.Equal(Enumerable.Range(1, acknowledged).Select(number => Facts.Numbered(number)), found);
            },
            iter: 150);
    }

    private static NewEntry Long(int number) => Facts.Numbered(number) with { Body = $"\"{new string('x', 400_000)}\"" };

    private void CopyTo(TemporaryFolder cut, byte[] log)
    {
        var files = new JournalFiles(cut.Path);
        File.Copy(Files.Database, files.Database);
        File.WriteAllBytes(files.WriteAheadLog, log);
    }
}
