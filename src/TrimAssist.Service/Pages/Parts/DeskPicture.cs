using System.Threading.Channels;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Events;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Pages.Parts;

/// <summary>What the page shows of a desk at one moment.</summary>
internal sealed record DeskSnapshot(
    LinkState Link, string Reason, bool Watching, IReadOnlyList<LiveInput> Inputs, IReadOnlyList<Proposal> Proposals, IReadOnlyList<Alarm> Alarms,
    SoundCheck? Check, IReadOnlyDictionary<int, string?> CheckWords);

/// <summary>Keeps one page's picture of a desk fresh: at once when something happened, else twice a second.</summary>
internal sealed class DeskPicture(DeskHosts desks, EventHub hub, TimeProvider time)
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(500);

    // Seven renders a second are plenty for words; the bars are drawn by the page's script.
    private static readonly TimeSpan ShortestPause = TimeSpan.FromMilliseconds(140);

    /// <summary>The desks to choose from.</summary>
    public IReadOnlyList<DeskHost> Desks => desks.All;

    /// <summary>Pictures until cancelled.</summary>
    public async Task FollowAsync(DeskHost desk, Func<DeskSnapshot, Task> show, CancellationToken cancellationToken)
    {
        var wake = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
        using var timer = time.CreateTimer(_ => wake.Writer.TryWrite(true), null, TimeSpan.Zero, Pace);
        using var client = hub.Join(null, out _);
        var listening = client is null ? Task.CompletedTask : ListenAsync(client, wake.Writer, cancellationToken);
        await foreach (var _ in wake.Reader.ReadAllAsync(cancellationToken))
        {
            await show(await TakeAsync(desk));
            await Task.Delay(ShortestPause, time, cancellationToken);
        }

        await listening;
    }

    /// <summary>Starts a check over all inputs that have a name, or over all where none has.</summary>
    public static Task StartCheckAsync(DeskHost desk) => desk.AskAsync(assistant =>
    {
        var all = Enumerable.Range(1, assistant.Desk.Inputs).ToArray();
        var named = all.Where(input => !string.IsNullOrWhiteSpace(assistant.Input(input).Settings.Label)).ToArray();
        assistant.StartCheck(named.Length > 0 ? named : all, desk.Now());
        return true;
    });

    /// <summary>Finishes the running check.</summary>
    public static Task FinishCheckAsync(DeskHost desk, Guid check) => desk.AskAsync(assistant => assistant.FinishCheck(check, desk.Now()) is not null);

    private static async Task ListenAsync(EventClient client, ChannelWriter<bool> wake, CancellationToken cancellationToken)
    {
        try
        {
            await foreach (var item in client.ReadAsync(cancellationToken))
            {
                if (item.Id is not null)
                    wake.TryWrite(true);
            }
        }
        catch (OperationCanceledException)
        {
            // The page is gone.
        }
    }

    private static Task<DeskSnapshot> TakeAsync(DeskHost desk) => desk.AskAsync(assistant =>
    {
        var check = assistant.LatestCheck;
        var words = check is null
            ? []
            : assistant.CheckResults(check.Id).ToDictionary(result => result.Report.Input, result => result.Advice);
        return new DeskSnapshot(
            assistant.Link,
            desk.LastDescribed.Reason,
            assistant.Watching,
            [.. Enumerable.Range(1, assistant.Desk.Inputs).Select(assistant.Input)],
            [.. assistant.Book.All.Where(one => one.IsOpen || one.CreatedAt.Elapsed >= (check?.StartedAt.Elapsed ?? TimeSpan.MaxValue))],
            [.. assistant.Alarms.All.Where(alarm => alarm.IsActive).OrderByDescending(alarm => alarm.Priority).ThenByDescending(alarm => alarm.At.Elapsed)],
            check,
            words);
    });
}
