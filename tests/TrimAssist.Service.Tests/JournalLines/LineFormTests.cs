using TrimAssist.Core.Journal;
using TrimAssist.Service.Doctor;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.JournalLines;

/// <summary>What is a line of its kind, and what is none.</summary>
public sealed class LineFormTests
{
    private static readonly DateTimeOffset Night = new(2031, 5, 17, 20, 15, 0, TimeSpan.Zero);

    public static TheoryData<string> Kinds => [.. LineSample.Read.Select(one => one.Kind)];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_line_as_the_first_version_wrote_it_is_read(string kind) =>
        Assert.Null(JournalReview.FormOf(kind)!.WhyNot(new JournalEntry(1, Damage.Entry(kind, LineSample.Of(kind).Body, Night))));

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_line_from_before_a_member_was_added_is_read(string kind)
    {
        var added = LineSample.Of(kind).Body.TrimEnd()[..^1] + ",\"ofALaterVersion\":{\"deep\":[1,2,null]}}";
        Assert.Null(JournalReview.FormOf(kind)!.WhyNot(new JournalEntry(1, Damage.Entry(kind, added, Night))));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_damaged_line_is_none_and_says_why(string kind)
    {
        foreach (var fact in Damage.Lines(LineSample.Of(kind), Night))
        {
            var reason = JournalReview.FormOf(kind)!.WhyNot(new JournalEntry(1, fact));
            Assert.True(reason is { Length: > 5 }, $"read as if it were whole: {fact.Body}");
        }
    }

    [Fact]
    public async Task A_review_names_every_line_that_cannot_be_read_and_only_those()
    {
        using var folder = new TemporaryFolder();
        var lines = LineSample.Read.SelectMany(one => Damage.Lines(one, Night).Take(3).Append(Damage.Entry(one.Kind, one.Body, Night)))
            .Concat(LineSample.Unread.Select(one => Damage.Entry(one.Kind, one.Body, Night))).ToList();
        await OddJournal.WriteAsync(folder.Path, lines);
        OddJournal.AddFaulty(folder.Path);

        var review = JournalReview.Of(folder.Path);

        Assert.Equal((lines.Count + 2, 3), (review.Lines, review.UnknownKinds));
        Assert.Equal((LineSample.Read.Count * 3) + 2, review.Unread.Count);
        Assert.Empty(review.Damage);
        Assert.Equal(["Its id \"" + new string('x', 32) + "\" is none.", "Its moment \"last night\" is none."], review.Unread.TakeLast(2).Select(one => one.Reason));
    }
}
