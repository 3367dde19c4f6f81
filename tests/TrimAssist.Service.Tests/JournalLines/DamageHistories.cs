using System.Text.Json;
using CsCheck;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Service.Acts;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;
using TrimAssist.Service.Report;
using Xunit;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>Random damage to the bodies of an evening: characters changed, cut out, put in, bodies cut off or swapped with those of other lines.</summary>
public sealed class DamageHistories
{
    private const int Inputs = 4;

    private static readonly DateTimeOffset Night = new(2031, 5, 17, 20, 15, 0, TimeSpan.Zero);
    private static readonly Moment Now = new(TimeSpan.FromHours(1), Night.AddHours(1));

    // What damage by hand is made of.
    private static readonly string[] Pieces = ["null", "1e999", "-7", "\"\"", "[", "]", "{", "}", ",", "\"", "\\ud800", "9999-12-31T23:59:59Z", "0001-01-01T00:00:00Z", "true", "later"];

    [Fact]
    public void Whatever_becomes_of_some_lines_every_reader_goes_on_and_the_whole_lines_after_them_are_remembered()
    {
        var (unread, read) = (0, 0);
        var damage = Gen.Select(Gen.Int[0, 3], Gen.Int[0, 60], Gen.Int[0, 2000], Gen.Int[0, 40]).Array[1, 12];
        damage.Sample(
            history =>
            {
                var (before, after) = (new Evening("Paper Lanterns", "Ada Fairweather", Night), new Evening("Tin Whistle Club", "Bea Thornbury", Night));
                List<NewEntry> lines = [.. LineSample.Read.Select(one => Damage.Entry(one.Kind, one.Body, Night)), .. before.Lines()];
                foreach (var (way, which, where, what) in history)
                {
                    var at = which % lines.Count;
                    lines[at] = lines[at] with { Body = Damaged(lines[at].Body, way, where, what, lines) };
                }

                var journal = new LineReader(LineList.Of([.. lines, .. after.Lines()]));
                Interlocked.Add(ref unread, AssertReadersGoOn(journal, before, after));
                Interlocked.Increment(ref read);
            },
            iter: 1000,
            print: history => string.Join(", ", history));
        // Damage that leaves every line readable would show nothing.
        Assert.True(unread > read, $"{unread} lines unread in {read} journals");
    }

    private static int AssertReadersGoOn(LineReader journal, Evening before, Evening after)
    {
        var proposals = StartupReplay.Read(journal, "desk", Inputs, Now);
        Assert.All(proposals, one =>
        {
            Assert.False(one.Proposal.State is ProposalState.Open or ProposalState.Confirmed, "a restart left a proposal open");
            Assert.InRange(one.Proposal.Input, 1, Inputs);
            JsonSerializer.Serialize(one.Proposal.ToReply(), ApiJson.Options);
        });
        Assert.Contains(proposals, one => one.Proposal.Id == after.Applied && one.Proposal.State == ProposalState.Applied);
        Assert.Contains(proposals, one => one.Proposal.Id == after.Open && one.Proposal.State == ProposalState.Expired);
        Assert.Equal(new ActLeft(after.Act, IsOn: true, IsMeant: true), ActMemory.Read(journal, "desk", Now.Utc));
        Assert.Contains(ListMemory.Read(journal, "desk", Inputs, Now.Utc), act => act.Name == after.Act);
        Assert.Contains(ChainMemory.Read(journal, "desk", Inputs), chain => chain.Act == after.Act);
        var shows = ShowMemory.Read(journal, TimeProvider.System);
        Assert.Contains(shows.Players(), player => player.Player == after.Player);
        Assert.All(shows.Players(), player => Assert.True(double.IsFinite(player.Allowance.Db) && double.IsFinite(player.Allowance.SpreadDb)));
        Assert.Single(shows.LastShow("desk", after.Act));
        GainSheetFormats.ToJson(GainSheetReader.Read(journal, after.Act)!);
        if (GainSheetReader.Read(journal, before.Act) is { } sheet)
            GainSheetFormats.ToJson(sheet);
        Assert.Contains(after.Act, GainSheetReader.Acts(journal));
        return journal.Unread;
    }

    private static string Damaged(string body, int way, int where, int what, List<NewEntry> lines)
    {
        if (body.Length == 0)
            return lines[what % lines.Count].Body;
        var at = where % body.Length;
        return way switch
        {
            0 => body[..at],
            1 => body[..at] + (char)(' ' + what) + body[(at + 1)..],
            2 => body.Remove(at, Math.Min(1 + what, body.Length - at)),
            _ => what < Pieces.Length ? body.Insert(at, Pieces[what]) : lines[what % lines.Count].Body,
        };
    }
}
