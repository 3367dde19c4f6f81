using TrimAssist.Core.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>What every journal promises, whatever it is made of.</summary>
public abstract class JournalContract<TJournal>
    where TJournal : IJournal, IJournalReader
{
    protected abstract TJournal Journal { get; }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public void An_empty_journal_has_no_position_and_no_entries()
    {
        Assert.Equal(0, Journal.LastPosition);
        Assert.Empty(Journal.ReadAfter(0));
    }

    [Fact]
    public async Task An_entry_is_read_back_exactly_as_it_was_told()
    {
        var fact = Facts.Numbered(1);
        var result = await Journal.AppendAsync(fact, Cancel);
        Assert.Equal(new AppendResult(AppendOutcome.Appended, 1, null), result);
        Assert.True(result.Durable);
        Assert.Equal([new JournalEntry(1, fact)], Journal.ReadAfter(0));
    }

    [Fact]
    public async Task An_entry_may_concern_no_desk()
    {
        await Journal.AppendAsync(Facts.Numbered(1, desk: null), Cancel);
        Assert.Null(Journal.ReadAfter(0).Single().Fact.Desk);
    }

    [Fact]
    public async Task Entries_stand_in_the_order_of_the_calls()
    {
        var results = await Task.WhenAll(Enumerable.Range(1, 700).Select(number => Journal.AppendAsync(Facts.Numbered(number), Cancel)));
        Assert.Equal(Enumerable.Range(1, 700).Select(number => (long?)number), results.Select(result => result.Position));
        Assert.Equal(Enumerable.Range(1, 700).Select(Facts.Id), Journal.ReadAfter(0).Select(entry => entry.Fact.Id));
        Assert.Equal(700, Journal.LastPosition);
    }

    [Fact]
    public async Task What_is_only_noted_stands_in_the_order_of_the_calls_too()
    {
        var results = await Task.WhenAll(Enumerable.Range(1, 700).Select(number =>
            number % 3 == 0 ? Journal.AppendAsync(Facts.Numbered(number), Cancel) : Journal.NoteAsync(Facts.Numbered(number))));
        Assert.Equal(Enumerable.Range(1, 700).Select(number => (long?)number), results.Select(result => result.Position));
        Assert.Equal(Enumerable.Range(1, 700).Select(Facts.Id), Journal.ReadAfter(0).Select(entry => entry.Fact.Id));
    }

    [Fact]
    public async Task The_same_fact_told_again_adds_nothing_and_names_the_first()
    {
        await Journal.AppendAsync(Facts.Numbered(1), Cancel);
        await Journal.AppendAsync(Facts.Numbered(2), Cancel);
        Assert.Equal(new AppendResult(AppendOutcome.AlreadyThere, 1, null), await Journal.AppendAsync(Facts.Numbered(1), Cancel));
        Assert.Equal(2, Journal.LastPosition);
    }

    [Fact]
    public async Task The_same_fact_told_many_times_at_once_is_written_once()
    {
        var results = await Task.WhenAll(Enumerable.Range(0, 50).Select(_ => Task.Run(() => Journal.AppendAsync(Facts.Numbered(1), Cancel))));
        Assert.Single(results, result => result.Outcome == AppendOutcome.Appended);
        Assert.All(results, result => Assert.Equal(1, result.Position));
        Assert.Single(Journal.ReadAfter(0));
    }

    public static TheoryData<string> Differences => ["body", "kind", "desk", "version", "time"];

    [Theory]
    [MemberData(nameof(Differences))]
    public async Task Another_fact_under_the_same_id_is_a_conflict_and_the_first_stands(string difference)
    {
        var first = Facts.Numbered(1);
        await Journal.AppendAsync(first, Cancel);
        var result = await Journal.AppendAsync(
            difference switch
            {
                "body" => first with { Body = """{"number":2}""" },
                "kind" => first with { Kind = "alarm" },
                "desk" => first with { Desk = null },
                "version" => first with { BodyVersion = 2 },
                _ => first with { AtUtc = first.AtUtc.AddTicks(1) },
            },
            Cancel);
        Assert.Equal(AppendOutcome.Conflict, result.Outcome);
        Assert.False(result.Durable);
        Assert.NotNull(result.Reason);
        Assert.Equal([new JournalEntry(1, first)], Journal.ReadAfter(0));
    }

    [Fact]
    public async Task A_conflict_does_not_hinder_the_facts_beside_it()
    {
        await Journal.AppendAsync(Facts.Numbered(1), Cancel);
        var results = await Task.WhenAll(
            Journal.AppendAsync(Facts.Numbered(1) with { Kind = "alarm" }, Cancel), Journal.AppendAsync(Facts.Numbered(2), Cancel));
        Assert.Equal([AppendOutcome.Conflict, AppendOutcome.Appended], results.Select(result => result.Outcome));
    }

    [Fact]
    public async Task Reading_begins_after_a_position_and_passes_page_borders()
    {
        await Task.WhenAll(Enumerable.Range(1, 1100).Select(number => Journal.AppendAsync(Facts.Numbered(number), Cancel)));
        Assert.Equal(Enumerable.Range(4, 1097).Select(number => (long)number), Journal.ReadAfter(3).Select(entry => entry.Position));
        Assert.Empty(Journal.ReadAfter(1100));
    }

    [Fact]
    public async Task Reading_may_choose_kinds()
    {
        string[] kinds = ["proposal", "alarm", "sending"];
        foreach (var number in Enumerable.Range(0, 9))
            await Journal.AppendAsync(Facts.Numbered(number, kinds[number % 3]), Cancel);
        Assert.Equal([4, 5, 7, 8], Journal.ReadAfter(3, "alarm", "proposal").Select(entry => entry.Position));
        Assert.Empty(Journal.ReadAfter(0, "unheard-of"));
    }

    [Fact]
    public async Task Reading_back_begins_with_the_last_passes_page_borders_and_may_choose_kinds()
    {
        string[] kinds = ["proposal", "alarm", "sending"];
        await Task.WhenAll(Enumerable.Range(0, 2700).Select(number => Journal.AppendAsync(Facts.Numbered(number, kinds[number % 3]), Cancel)));
        var back = Enumerable.Range(0, 2700).Select(number => 2700L - number).ToList();

        Assert.Equal(back, Journal.ReadBack().Select(entry => entry.Position));
        Assert.Equal(back.Where(position => position % 3 != 0), Journal.ReadBack("alarm", "proposal").Select(entry => entry.Position));
        Assert.Equal(back.Where(position => position % 3 == 0), Journal.ReadBack("sending").Select(entry => entry.Position));
        Assert.Empty(Journal.ReadBack("unheard-of"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{} {}")]
    [InlineData("{\"level\":NaN}")]
    public async Task A_body_that_is_not_one_json_document_is_refused_at_once(string body)
    {
        await Assert.ThrowsAsync<ArgumentException>(() => Journal.AppendAsync(Facts.Numbered(1) with { Body = body }, Cancel));
        Assert.Equal(0, Journal.LastPosition);
    }
}
