using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Pages.Picture;

/// <summary>What the page shows of a desk at one moment.</summary>
public sealed record DeskSnapshot
{
    /// <summary>The stamp of this picture, which grows: the page's script sees by it that the picture is fresh, and names it when it confirms.</summary>
    public required long Number { get; init; }

    /// <summary>The desk's id.</summary>
    public required string Desk { get; init; }

    /// <summary>The desk's name.</summary>
    public required string DeskName { get; init; }

    /// <summary>How the link stands.</summary>
    public required LinkState Link { get; init; }

    /// <summary>Why the link stands so.</summary>
    public required Saying LinkReason { get; init; }

    /// <summary>Whether the show watch is on.</summary>
    public required bool Watching { get; init; }

    /// <summary>Where each input's loudest show peak should land, dBFS, in order: an input list may say otherwise than the service.</summary>
    public required IReadOnlyList<double> TargetsDbfs { get; init; }

    /// <summary>Every input that anything was ever proposed for: it stays in sight.</summary>
    public IReadOnlySet<int> SpokenOf { get; init; } = new HashSet<int>();

    /// <summary>Every input, in order.</summary>
    public required IReadOnlyList<LiveInput> Inputs { get; init; }

    /// <summary>Open proposals, and what became of those made since the latest check began.</summary>
    public required IReadOnlyList<Proposal> Proposals { get; init; }

    /// <summary>Active alarms, the most urgent first: what goes on before what is over, what was seen last.</summary>
    public required IReadOnlyList<Alarm> Alarms { get; init; }

    /// <summary>The safe patch asked for last on each input that had one.</summary>
    public required IReadOnlyList<SafePatch> Patches { get; init; }

    /// <summary>Why the journal cannot be written, so that nothing can be confirmed; <see langword="null"/> while it can.</summary>
    public string? JournalTrouble { get; init; }

    /// <summary>The check begun last.</summary>
    public SoundCheck? Check { get; init; }

    /// <summary>Per input of that check: why nothing is proposed so far; <see langword="null"/> where enough was heard.</summary>
    public required IReadOnlyDictionary<int, Saying?> CheckWords { get; init; }

    /// <summary>Whether a check listens.</summary>
    public bool Checking => Check is { State: CheckState.Listening };

    /// <summary>Whether anything may be confirmed: never on a link that is not live.</summary>
    public bool IsLive => Link == LinkState.Live;

    /// <summary>Proposals that wait for the engineer.</summary>
    public int Waiting => Proposals.Count(one => one.IsOpen);

    /// <summary>The active alarms by cause, one matter a cause, in the order of the most urgent of each.</summary>
    public IReadOnlyList<ShownGroup> Matters =>
        [.. Alarms.GroupBy(alarm => alarm.GroupId).Select(cause => new ShownGroup(cause.Key, [.. cause.OrderBy(alarm => alarm.At.Elapsed)]))];

    /// <summary>Where an input's loudest show peak should land, dBFS.</summary>
    public double TargetOf(int input) => TargetsDbfs[input - 1];

    /// <summary>The safe patch of an input; <see langword="null"/> where none was asked for.</summary>
    public SafePatch? PatchOf(int input) => Patches.FirstOrDefault(patch => patch.Inputs.Contains(input));

    /// <summary>An input as it is called: number and name.</summary>
    public string Called(int input) => Inputs[input - 1].Settings.Label is { Length: > 0 } name ? $"{input} {name}" : $"{input}";
}
