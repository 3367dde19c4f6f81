using System.Collections.Concurrent;
using System.Threading.Channels;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Clocks;
using TrimAssist.Service.Events;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Pages.Picture;

/// <summary>Takes pictures of the desks for whoever looks at a page: soon after something happened, else twice a second.</summary>
internal sealed class DeskPicture(DeskHosts desks, EventHub hub, PictureClock pictures, TimeProvider time)
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(500);

    // Five renders a second are plenty for words; the bars are drawn by the page's script.
    private static readonly TimeSpan ShortestPause = TimeSpan.FromMilliseconds(200);

    private readonly ConcurrentDictionary<string, DeskSnapshot> _last = new(StringComparer.Ordinal);

    /// <summary>The desks to choose from.</summary>
    public IReadOnlyList<DeskHost> Desks => desks.All;

    /// <summary>The desk with this id, or the first where none is named; <see langword="null"/> where there is none.</summary>
    public DeskHost? Find(string? id) => id is not null ? desks.Find(id) : desks.All.Count > 0 ? desks.All[0] : null;

    /// <summary>Pictures until cancelled.</summary>
    public async Task FollowAsync(DeskHost desk, Func<DeskSnapshot, Task> show, CancellationToken cancellationToken)
    {
        var wake = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
        using var timer = time.CreateTimer(_ => wake.Writer.TryWrite(true), null, TimeSpan.Zero, Pace);
        using var client = hub.JoinInside(null);
        var listening = ListenAsync(client, wake.Writer, cancellationToken);
        await foreach (var _ in wake.Reader.ReadAllAsync(cancellationToken))
        {
            await show(await TakeAsync(desk));
            await Task.Delay(ShortestPause, time, cancellationToken);
        }

        await listening;
    }

    /// <summary>The last picture taken for anybody: a page that begins to live shows it at once and does not blink.</summary>
    public DeskSnapshot? Last(DeskHost desk) => _last.GetValueOrDefault(desk.Description.Id);

    /// <summary>The picture at this moment.</summary>
    public async Task<DeskSnapshot> TakeAsync(DeskHost desk) => _last[desk.Description.Id] = await desk.AskAsync(assistant =>
    {
        var check = assistant.LatestCheck;
        var words = check is null
            ? []
            : assistant.CheckResults(check.Id).ToDictionary(result => result.Report.Input, result => result.Advice);
        return new DeskSnapshot
        {
            Number = pictures.Stamp(),
            Desk = desk.Description.Id,
            DeskName = desk.Description.Name,
            Link = assistant.Link,
            LinkReason = desk.LinkReason,
            Watching = assistant.Watching,
            JournalTrouble = desk.LastDescribed.JournalTrouble,
            TargetsDbfs = [.. Enumerable.Range(1, assistant.Desk.Inputs).Select(input => assistant.Acts.TargetOf(input).Value)],
            Inputs = [.. Enumerable.Range(1, assistant.Desk.Inputs).Select(input => Named(assistant.LastKnown(input), assistant.Acts))],
            SpokenOf = assistant.Book.All.SelectMany(one => one.Inputs).ToHashSet(),
            // What became of a proposal stays in its row until that input is checked again.
            Proposals = [.. assistant.Book.All.Where(
                one => one.IsOpen || one.CreatedAt.Elapsed >= (assistant.LatestCheckOf(one.Input)?.StartedAt.Elapsed ?? TimeSpan.MaxValue))],
            Alarms = [.. assistant.Alarms.All.Where(alarm => alarm.IsActive)
                .OrderByDescending(alarm => Standing(alarm, assistant.Book)).ThenByDescending(alarm => alarm.Priority).ThenByDescending(alarm => alarm.At.Elapsed)],
            Patches = [.. assistant.Patches.All],
            Check = check,
            CheckWords = words,
        };
    });

    // Where the desk gives no name, the input list of the act that is on may.
    private static LiveInput Named(LiveInput live, ActStage acts) =>
        string.IsNullOrWhiteSpace(live.Settings.Label) && acts.Line(live.Settings.Input) is { } line
            ? live with { Settings = live.Settings with { Label = line.Name ?? line.Source } }
            : live;

    // What goes on, or still offers its mute, before what is over; what was seen comes last.
    private static int Standing(Alarm alarm, ProposalBook book) => alarm.State switch
    {
        AlarmState.Acknowledged => 0,
        AlarmState.Returned when alarm.ProposalId is not { } offered || book.Find(offered) is not { IsOpen: true } => 1,
        _ => 2,
    };

    private static async Task ListenAsync(EventClient client, ChannelWriter<bool> wake, CancellationToken cancellationToken)
    {
        await foreach (var item in client.ReadAsync(cancellationToken))
        {
            if (item.Id is not null)
                wake.TryWrite(true);
        }
    }
}
