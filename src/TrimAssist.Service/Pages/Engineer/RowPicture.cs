using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Pages.Picture;
using TrimAssist.Service.Pages.Wording;

namespace TrimAssist.Service.Pages.Engineer;

/// <summary>What one row shows.</summary>
/// <param name="Live">The input as it stands.</param>
/// <param name="Change">The trim or pad proposal to show: an open one first, else what became of the last.</param>
/// <param name="Mute">The open mute or unmute proposal: it has a place of its own.</param>
/// <param name="Clipping">Whether an active alarm says that the input clips or runs hot.</param>
/// <param name="Hissing">Whether an active alarm says that its noise rose, or its noise floor is near its loudest passage.</param>
/// <param name="Plugging">Whether somebody on stage may hold its plug: a safe patch is under way and its mute is on.</param>
/// <param name="TargetDbfs">Where the loudest peak of its show should land.</param>
/// <param name="Known">Whether it has a name, was heard or was ever spoken of.</param>
/// <param name="Wanted">Whether a check that listens has not heard it enough.</param>
/// <param name="Word">What the running or last check has to say, where there is no proposal; else why the last proposal went, or what is advised about its chain.</param>
public sealed record RowPicture(LiveInput Live, Proposal? Change, Proposal? Mute, bool Clipping, bool Hissing, bool Plugging, double TargetDbfs, bool Known, bool Wanted, Sentence? Word)
{
    /// <summary>A loudest passage less than this above the noise floor is heard with its noise: common practice.</summary>
    private const double LeastDistanceDb = 20;

    /// <summary>A noise floor below this disturbs nobody, however soft the playing: common practice.</summary>
    private const double QuietFloorDbfs = -60;

    /// <summary>The input's number.</summary>
    public int Input => Live.Settings.Input;

    /// <summary>Whether something on the row waits for the engineer.</summary>
    public bool Asks => Change is { IsOpen: true } || Mute is not null;

    /// <summary>Whether nothing is played on it.</summary>
    public bool Silent => Live.Activity != Activity.Playing;

    /// <summary>Whether nobody has named it, nothing was ever heard on it and nothing was ever said of it: its row may be slim.</summary>
    public bool Unused => !Known && Spoken is null && !Clipping && !Hissing && !Plugging;

    /// <summary>What the proposal column speaks about: the open change, else an open mute, else what became of the last change.</summary>
    public Proposal? Spoken => Change is { IsOpen: true } ? Change : Mute ?? Change;

    /// <summary>The rows of a picture.</summary>
    public static IReadOnlyList<RowPicture> Of(DeskSnapshot now) => [.. now.Inputs.Select(live => Of(live, now))];

    private static RowPicture Of(LiveInput live, DeskSnapshot now)
    {
        var input = live.Settings.Input;
        var mine = now.Proposals.Where(one => one.Inputs.Contains(input)).ToList();
        var change = mine.Where(one => one.Kind is (ProposalKind.Trim or ProposalKind.Pad) && IsWorthShowing(one.State))
            .OrderByDescending(one => one.IsOpen).ThenByDescending(one => one.CreatedAt.Elapsed).FirstOrDefault();
        return new(
            live,
            change,
            mine.Find(one => one.IsOpen && one.Kind is (ProposalKind.Mute or ProposalKind.Unmute)),
            now.Alarms.Any(alarm => alarm.Input == input && alarm.Kind is (AlarmKind.Overload or AlarmKind.FlatTop or AlarmKind.Hot)),
            now.Alarms.Any(alarm => alarm.Input == input && alarm.Kind == AlarmKind.NoiseRise)
                || (live is { NoiseFloorDbfs: >= QuietFloorDbfs and var floor, LoudestPassageDbfs: { } passage } && passage - floor < LeastDistanceDb),
            now.PatchOf(input) is { IsHeld: true },
            now.TargetOf(input),
            !string.IsNullOrWhiteSpace(live.Settings.Label) || live.LoudestPassageDbfs is not null || now.SpokenOf.Contains(input),
            now.Checking && now.CheckWords.GetValueOrDefault(input) is not null,
            now.CheckWords.GetValueOrDefault(input) is { } remark ? Words.Remark(remark) : now.Checking && now.CheckWords.ContainsKey(input) ? new Sentence(Words.HeardEnough, null) : Gone(mine) ?? Advised(live));
    }

    // A proposal that vanishes from under an eye leaves its reason in the row.
    private static Sentence? Gone(List<Proposal> mine) =>
        mine.Where(one => one.Kind is ProposalKind.Trim or ProposalKind.Pad).MaxBy(one => one.CreatedAt.Elapsed) is { State: ProposalState.Superseded or ProposalState.Expired, Outcome: { } why }
            ? Words.Said(why)
            : null;

    private static Sentence? Advised(LiveInput live) => live.Advice is { } advice ? Words.Said(advice.Text) : null;

    private static bool IsWorthShowing(ProposalState state) => state is not (ProposalState.Superseded or ProposalState.Expired or ProposalState.Declined);
}
