using System.Text.Json;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Journal;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>What acts, lists and players a service remembers where the very line that would tell cannot be read.</summary>
public sealed class MemoriesTests
{
    private static readonly DateTimeOffset Night = new(2031, 5, 17, 20, 15, 0, TimeSpan.Zero);
    private static readonly Evening Lanterns = new("Paper Lanterns", "Zoë Ashdown", Night);
    private static readonly Evening Whistles = new("Tin Whistle Club", "Bea Thornbury", Night);

    [Fact]
    public void An_act_whose_list_cannot_be_read_is_known_by_its_name()
    {
        var left = Left(Odd(JournalKinds.Act, """{"act":{"name":"Late Ferry","startsAt":"soon","inputs":[{"role":"of-a-later-version"}]}}"""));
        Assert.Equal(new ActLeft("Late Ferry", IsOn: true, IsMeant: true), left);
    }

    [Fact]
    public void After_an_act_that_nobody_can_name_the_one_before_is_not_taken_for_it() => Assert.Null(Left(Odd(JournalKinds.Act, "null")));

    [Fact]
    public void An_acts_end_that_cannot_be_read_is_the_end_of_the_one_that_was_on() =>
        Assert.Equal(new ActLeft(Lanterns.Act, IsOn: false, IsMeant: true), Left(Odd(JournalKinds.ActEnded, "{\"act\":")));

    [Theory]
    [InlineData("""{"player":"Zoë Ash""", "")]
    [InlineData("""{"player":["zo\u00eb ashdown"]}""", "Bea Thornbury")]
    [InlineData("""{"wish":"of a later version","by":"Zoë Ashdown"}""", "Bea Thornbury")]
    [InlineData("null", "")]
    [InlineData("""{"player":"Bea Thornburys sister"}x""", "")]
    public void A_wish_to_be_forgotten_that_cannot_be_read_is_granted_to_whom_its_text_names_or_else_to_all(string body, string known)
    {
        var lines = new LineReader(LineList.Of([.. Lanterns.Lines(), .. Whistles.Lines(), Odd(JournalKinds.PlayerForgotten, body)]));
        var players = ShowMemory.Read(lines, TimeProvider.System).Players();
        Assert.Equal(known, string.Join(", ", players.Select(one => one.Player)));
        Assert.Equal(1, lines.Unread);
    }

    [Fact]
    public void Inputs_of_a_list_that_the_desk_does_not_have_are_left_out()
    {
        static ActInput Line(int input) => new(input, "Keys", null, SourceRole.Performer, null, null, null, null, null);
        var body = JsonSerializer.Serialize(new ListBody(new Act("Keys", null, [Line(-1), Line(0), Line(1), Line(4), Line(5)])), ActsJson.Default.ListBody);
        var act = Assert.Single(ListMemory.Read(new LineReader(LineList.Of([Odd(JournalKinds.List, body)])), "desk", 4, Night));
        Assert.Equal([1, 4], act.Inputs.Select(line => line.Input));
    }

    [Theory]
    [InlineData(JournalKinds.Show, """{"desk":"desk","line":{"player":"Zo\u00eb Ashdown","role":9}}""", 1, 0)]
    [InlineData(JournalKinds.List, """{"act":{"name":"x","inputs":[{"player":"ZOË ASHDOWN" """, 1, 0)]
    [InlineData(JournalKinds.Act, """{"act":{"inputs":[{"player":"Zoë Ashdowns"}]}}""", 0, 1)]
    [InlineData(JournalKinds.Act, "null", 0, 1)]
    [InlineData("of-a-later-version", """{"heard":"Zoë Ashdown"}""", 1, 0)]
    [InlineData("of-a-later-version", """{"heard":"somebody"}""", 0, 1)]
    [InlineData(JournalKinds.Confirmed, """{"by":"Zoë Ashdown"}""", 0, 0)]
    public async Task An_erasure_takes_a_line_that_cannot_be_read_where_its_text_has_the_name_and_tells_of_the_others(string kind, string body, int erased, int unread)
    {
        using var folder = new TemporaryFolder();
        await OddJournal.WriteAsync(folder.Path, [.. Lanterns.Lines(), Odd(kind, body), .. Whistles.Lines()]);

        Assert.Equal(new Erasure(3 + erased, unread), PlayerErasure.Erase(folder.Path, " zoë ashdown "));

        var left = new SqliteJournalReader(folder.Path).ReadAfter(0).Select(line => line.Fact.Body).ToList();
        Assert.Equal(erased == 0, left.Contains(body, StringComparer.Ordinal));
        Assert.Equal(Lanterns.Lines().Count() + Whistles.Lines().Count() - 3 + 1 - erased, left.Count);
    }

    [Fact]
    public async Task A_journal_is_renewed_and_archived_with_its_odd_lines_as_they_stand()
    {
        using var folder = new TemporaryFolder();
        await OddJournal.WriteAsync(folder.Path, [Odd(JournalKinds.Sending, "no json"), .. Lanterns.Lines()]);
        OddJournal.AddFaulty(folder.Path);
        var before = new SqliteJournalReader(folder.Path).ReadAfter(0).ToList();

        JournalRetention.Renew(folder.Path, _ => true, folder.File("old.db"));

        Assert.Equal(before, new SqliteJournalReader(folder.Path).ReadAfter(0));
        Assert.Equal(2, before.Count(line => line.Fault is not null));
    }

    private static ActLeft? Left(NewEntry last) => ActMemory.Read(new LineReader(LineList.Of([.. Lanterns.Lines(), last])), "desk", Night.AddHours(1));

    private static NewEntry Odd(string kind, string body) => Damage.Entry(kind, body, Night);
}
