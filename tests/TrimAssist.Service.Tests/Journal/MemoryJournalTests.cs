using TrimAssist.Core.Journal;
using TrimAssist.TestKit.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Journal;

/// <summary>The journal in memory keeps the contract.</summary>
public sealed class MemoryJournalTests : JournalContract<MemoryJournal>
{
    protected override MemoryJournal Journal { get; } = new();

    [Fact]
    public async Task It_refuses_while_it_is_told_to()
    {
        Journal.Refuse("The disk is full.");
        var refused = await Journal.AppendAsync(Facts.Numbered(1), TestContext.Current.CancellationToken);
        Assert.Equal(new AppendResult(AppendOutcome.Unavailable, null, "The disk is full."), refused);
        Journal.Refuse(null);
        Assert.True((await Journal.AppendAsync(Facts.Numbered(1), TestContext.Current.CancellationToken)).Durable);
    }
}
