using CsCheck;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>
/// What can be tested of a power cut without cutting the power: the files as they stand after every acknowledged write, cut off at every
/// sector of the write-ahead log, with sectors of the last write missing, and in the middle of folding the log into the database. A sector is
/// taken to be written whole or not at all (512 bytes, what SQLite calls atomic at the least); what the disk does with a flush it was asked for
/// is not seen here.
/// </summary>
public sealed class PowerCutTests : IDisposable
{
    private const int Sector = 512;

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
            using var cut = Cut(Read(Files.Database), Read(Files.WriteAheadLog));
            await using var after = SqliteJournal.Open(cut.Path);
            Assert.Equal(Enumerable.Range(1, number).Select(Facts.Id), after.ReadAfter(0).Select(entry => entry.Fact.Id));
            Assert.Equal(number + 1, (await after.AppendAsync(Long(number + 1), Cancel)).Position);
        }
    }

    [Fact]
    public async Task A_log_cut_off_at_any_sector_loses_nothing_acknowledged_and_invents_nothing()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var acknowledgedAt = await WriteAsync(journal, 8);
        var (database, log) = (Read(Files.Database), Read(Files.WriteAheadLog));

        var lengths = Enumerable.Range(0, (log.Length / Sector) + 1).Select(sector => sector * Sector).Concat(acknowledgedAt).Where(length => length >= acknowledgedAt[0]);
        Assert.All(lengths, length => AssertHolds(database, log[..length], acknowledgedAt.Count(at => at <= length) - 1));
    }

    [Fact]
    public async Task A_write_torn_at_any_byte_loses_nothing_acknowledged_and_invents_nothing()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var acknowledgedAt = await WriteAsync(journal, 12);
        var (database, log) = (Read(Files.Database), Read(Files.WriteAheadLog));

        Gen.Select(Gen.Int[acknowledgedAt[0], log.Length], Gen.Byte.Array[0, 5000]).Sample(
            (length, rubbish) => AssertHolds(database, [.. log.AsSpan(0, length), .. rubbish], acknowledgedAt.Count(at => at <= length) - 1), iter: 100);
    }

    [Fact]
    public async Task A_last_write_of_which_any_sectors_are_missing_is_there_whole_or_not_at_all()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var acknowledgedAt = await WriteAsync(journal, 5);
        await journal.AppendAsync(Facts.Numbered(6) with { Body = $"\"{new string('x', 9000)}\"" }, Cancel);
        var (database, log) = (Read(Files.Database), Read(Files.WriteAheadLog));
        var written = Enumerable.Range(0, log.Length / Sector).Where(sector => (sector + 1) * Sector > acknowledgedAt[^1]).ToArray();

        Gen.Shuffle(written).SelectMany(order => Gen.Int[1, order.Length].Select(many => order[..many])).Sample(
            missing =>
            {
                var torn = log.ToArray();
                foreach (var sector in missing)
                    torn.AsSpan(Math.Max(sector * Sector, acknowledgedAt[^1])..Math.Min((sector + 1) * Sector, torn.Length)).Clear();
                // A sector of zeros is none that was missing.
                if (!torn.AsSpan().SequenceEqual(log))
                    AssertHolds(database, torn, 5);
            },
            iter: 100);
    }

    [Fact]
    public async Task A_cut_while_the_log_is_folded_into_the_database_loses_nothing()
    {
        byte[] before, log;
        await using (var journal = SqliteJournal.Open(_folder.Path))
        {
            await WriteAsync(journal, 12);
            (before, log) = (Read(Files.Database), Read(Files.WriteAheadLog));
        }

        // Closed, the journal has folded its log.
        Assert.False(File.Exists(Files.WriteAheadLog));
        var after = Read(Files.Database);
        Gen.Bool.Array[(after.Length + Sector - 1) / Sector].Sample(
            written =>
            {
                var torn = new byte[after.Length];
                before.AsSpan(0, Math.Min(before.Length, torn.Length)).CopyTo(torn);
                for (var sector = 0; sector < written.Length; sector++)
                {
                    if (written[sector])
                        after.AsSpan(sector * Sector, Math.Min(Sector, after.Length - (sector * Sector))).CopyTo(torn.AsSpan(sector * Sector));
                }

                AssertHolds(torn, log, 12);
            },
            iter: 100);
    }

    [Fact]
    public async Task A_cut_while_a_folded_log_is_written_over_from_its_beginning_loses_nothing()
    {
        await using var journal = SqliteJournal.Open(_folder.Path);
        var (number, old) = (0, Array.Empty<byte>());
        byte[] log;
        do
        {
            old = number == 0 ? old : Read(Files.WriteAheadLog);
            await journal.AppendAsync(Long(++number), Cancel);
            log = Read(Files.WriteAheadLog);
        }
        while (old.Length == 0 || log.AsSpan(0, 32).SequenceEqual(old.AsSpan(0, 32)));

        var database = Read(Files.Database);
        var changed = Enumerable.Range(0, log.Length).Last(at => at >= old.Length || log[at] != old[at]) + 1;
        Gen.Int[0, (changed / Sector) + 1].Sample(
            sectors =>
            {
                var length = Math.Min(sectors * Sector, log.Length);
                using var cut = Cut(database, [.. log.AsSpan(0, length), .. old.AsSpan(Math.Min(length, old.Length))]);
                var found = new SqliteJournalReader(cut.Path).ReadAfter(0).Select(entry => entry.Fact.Id).ToArray();
                Assert.Equal(Enumerable.Range(1, length >= changed ? number : number - 1).Select(Facts.Id), found);
            },
            iter: 40);
    }

    private static NewEntry Long(int number) => Facts.Numbered(number) with { Body = $"\"{new string('x', 400_000)}\"" };

    private static byte[] Read(string file)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    // How long the log was when each write was acknowledged; first of all, before any.
    private async Task<int[]> WriteAsync(SqliteJournal journal, int writes)
    {
        var acknowledgedAt = new List<int> { Read(Files.WriteAheadLog).Length };
        for (var number = 1; number <= writes; number++)
        {
            await journal.AppendAsync(Facts.Numbered(number), Cancel);
            acknowledgedAt.Add(Read(Files.WriteAheadLog).Length);
        }

        return [.. acknowledgedAt];
    }

    private static void AssertHolds(byte[] database, byte[] log, int writes)
    {
        using var cut = Cut(database, log);
        Assert.Equal(Enumerable.Range(1, writes).Select(number => Facts.Numbered(number)), new SqliteJournalReader(cut.Path).ReadAfter(0).Select(entry => entry.Fact));
    }

    private static TemporaryFolder Cut(byte[] database, byte[] log)
    {
        var cut = new TemporaryFolder();
        var files = new JournalFiles(cut.Path);
        File.WriteAllBytes(files.Database, database);
        File.WriteAllBytes(files.WriteAheadLog, log);
        return cut;
    }
}
