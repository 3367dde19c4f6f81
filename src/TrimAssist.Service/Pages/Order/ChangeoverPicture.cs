using TrimAssist.Core.Acts;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;

namespace TrimAssist.Service.Pages.Order;

/// <summary>Where an input of an act stands.</summary>
public enum CheckedState
{
    /// <summary>No check of this act has heard it.</summary>
    Left,

    /// <summary>A check listens and has not heard enough.</summary>
    Partly,

    /// <summary>A check heard enough.</summary>
    Heard,

    /// <summary>Nothing is to be checked: talkback, audience, a spare.</summary>
    NotWanted,
}

/// <summary>How a line of an input list compares with the act before on the same input.</summary>
public enum LineChange
{
    /// <summary>As it was.</summary>
    Same,

    /// <summary>The act before did not use it.</summary>
    New,

    /// <summary>Another source or player.</summary>
    Other,
}

/// <summary>One input of the act looked at.</summary>
/// <param name="Line">The list's line.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Change">How it compares with the act before.</param>
/// <param name="Before">The line of the act before.</param>
public sealed record ChangeoverLine(ActInput Line, CheckedState State, LineChange Change, ActInput? Before);

/// <summary>The running order and the act looked at, at one moment.</summary>
/// <param name="Acts">The acts in running order.</param>
/// <param name="Current">The act that is on.</param>
/// <param name="Shown">The act looked at.</param>
/// <param name="Before">The act before it in the running order.</param>
/// <param name="Lines">Its inputs.</param>
/// <param name="Freed">Inputs that the act before used and this one does not.</param>
/// <param name="Next">The act that starts next.</param>
/// <param name="ToStart">How long until it starts.</param>
public sealed record ChangeoverPicture(
    IReadOnlyList<Act> Acts, Act? Current, Act? Shown, Act? Before, IReadOnlyList<ChangeoverLine> Lines, IReadOnlyList<ActInput> Freed, Act? Next, TimeSpan? ToStart)
{
    private static readonly TimeSpan LongestAhead = TimeSpan.FromHours(18);

    /// <summary>No running order.</summary>
    public static ChangeoverPicture Nothing { get; } = new([], null, null, null, [], [], null, null);

    /// <summary>How many inputs are to be checked.</summary>
    public int Wanted => Lines.Count(line => line.State != CheckedState.NotWanted);

    /// <summary>The inputs that no check has heard enough.</summary>
    public IReadOnlyList<ChangeoverLine> Left => [.. Lines.Where(line => line.State is CheckedState.Left or CheckedState.Partly)];

    /// <summary>The picture at a moment. Called on the desk's loop.</summary>
    /// <param name="assistant">The desk's assistant.</param>
    /// <param name="named">The act looked at; <see langword="null"/> for the one that is on, else the next, else the first.</param>
    /// <param name="clock">The local time of day.</param>
    public static ChangeoverPicture Of(DeskAssistant assistant, string? named, TimeOnly clock)
    {
        var acts = assistant.Acts.Order.ToList();
        var current = assistant.Acts.Current;
        var next = acts.Where(act => act.StartsAt is not null).Select(act => (Act: act, Wait: Until(act.StartsAt!.Value, clock))).Where(one => one.Wait >= TimeSpan.Zero)
            .OrderBy(one => one.Wait).Select(one => (one.Act, Wait: (TimeSpan?)one.Wait)).FirstOrDefault();
        var shown = (named is null ? null : assistant.Acts.Find(named)) ?? current ?? next.Act ?? acts.FirstOrDefault();
        if (shown is null)
            return Nothing;
        var before = acts.IndexOf(shown) is var place and > 0 ? acts[place - 1] : null;
        return new(
            acts,
            current,
            shown,
            before,
            [.. shown.Inputs.OrderBy(line => line.Input).Select(line => Line(line, before, assistant, isOn: ReferenceEquals(shown, current)))],
            before is null ? [] : [.. before.Inputs.Where(was => shown.Inputs.All(line => line.Input != was.Input)).OrderBy(was => was.Input)],
            next.Act,
            next.Wait);
    }

    private static ChangeoverLine Line(ActInput line, Act? before, DeskAssistant assistant, bool isOn)
    {
        var was = before?.Inputs.FirstOrDefault(other => other.Input == line.Input);
        var change = (before, was) switch
        {
            (null, _) => LineChange.Same,
            (_, null) => LineChange.New,
            _ => SameText(line.Source ?? line.Name, was.Source ?? was.Name) && SameText(line.Player, was.Player) ? LineChange.Same : LineChange.Other,
        };
        return new(line, StateOf(line, assistant, isOn), change, was);
    }

    // Only checks since the act came on are its own.
    private static CheckedState StateOf(ActInput line, DeskAssistant assistant, bool isOn)
    {
        if (!RoleRules.GetsTrim(line.Role))
            return CheckedState.NotWanted;
        if (!isOn || assistant.LatestCheckOf(line.Input) is not { } check || check.StartedAt.Elapsed < assistant.Acts.BegunAt.Elapsed)
            return CheckedState.Left;
        if (assistant.CheckResults(check.Id).FirstOrDefault(result => result.Report.Input == line.Input) is { Report.Withheld: null })
            return CheckedState.Heard;
        return check.State == CheckState.Listening ? CheckedState.Partly : CheckedState.Left;
    }

    private static bool SameText(string? left, string? right) => string.Equals(left ?? "", right ?? "", StringComparison.OrdinalIgnoreCase);

    // A running order goes past midnight: what began up to six hours ago is past, anything else is still to come.
    internal static TimeSpan Until(TimeOnly start, TimeOnly clock)
    {
        var wait = start - clock;
        return wait > LongestAhead ? wait - TimeSpan.FromDays(1) : wait;
    }
}
