using System.Globalization;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Acts;

/// <summary>One line of a recall: what an input's last show had, beside what the desk has.</summary>
/// <param name="Line">The input as the list has it.</param>
/// <param name="Was">Its last show; <see langword="null"/> where none is remembered.</param>
/// <param name="DifferenceDb">How far the trim would move; <see langword="null"/> where nothing is proposed.</param>
/// <param name="Plan">The change; <see langword="null"/> where none is proposed.</param>
/// <param name="Note">A sentence for the engineer; <see langword="null"/> where there is nothing to say.</param>
public sealed record RecalledInput(ActInput Line, ShowInput? Was, double? DifferenceDb, TrimPlan? Plan, Saying? Note);

/// <summary>Works out what would bring back the trims of an act's last show. It proposes; it never sets.</summary>
public static class TrimRecall
{
    /// <summary>The list to review: the largest differences first, then what needs a word, then what is right already.</summary>
    /// <param name="act">The act.</param>
    /// <param name="last">What is remembered of its last show.</param>
    /// <param name="desk">The desk.</param>
    /// <param name="settings">What the desk last said about an input.</param>
    /// <param name="mayRaise">Whether an increase may be proposed: never during a watch.</param>
    public static IReadOnlyList<RecalledInput> Of(
        Act act, IReadOnlyList<ShowInput> last, DeskDescription desk, Func<int, InputSettings> settings, bool mayRaise) =>
        [.. act.Inputs
            .Select(line => One(line, last.FirstOrDefault(one => one.Line.Input == line.Input), desk, settings(line.Input), mayRaise))
            .OrderByDescending(one => Math.Abs(one.DifferenceDb ?? 0))
            .ThenBy(one => one.Note is null)
            .ThenBy(one => one.Line.Input)];

    private static RecalledInput One(ActInput line, ShowInput? was, DeskDescription desk, InputSettings now, bool mayRaise)
    {
        RecalledInput Only(Saying? note) => new(line, was, null, null, note);
        if (was is null)
            return Only(RecallSayings.RecallNoShow);
        if (!Same(SourceKinds.Of(line.Source), SourceKinds.Of(was.Line.Source)) || !Same(line.Player ?? "", was.Line.Player ?? ""))
            return Only(RecallSayings.RecallChanged(Text(was.Line)));
        if (!RoleRules.GetsTrim(line.Role))
            return Only(null);
        if (desk.Trim is not { } trim || was.TrimDb is not { } then)
            return Only(RecallSayings.RecallNoTrim);
        if (now.Trim is not { } current)
            return Only(RecallSayings.RecallUnread);
        if (was.PadOn is not null && was.PadOn != now.PadOn)
            return Only(was.PadOn is true ? RecallSayings.RecallPadIn : RecallSayings.RecallPadOut);
        var goal = TrimGrid.AtMost(trim, then);
        var difference = goal - current.Value;
        if (Math.Abs(difference) < Math.Max(trim.StepDb, trim.ToleranceDb) - 1e-9)
            return Only(null);
        if (difference > 0 && !mayRaise)
            return Only(RecallSayings.RecallNoRise);
        var day = was.BegunAt.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var reason = difference > 0 ? TrimSayings.RecallUp(was.Act, then, day) : TrimSayings.RecallDown(was.Act, then, day);
        var evidence = new ProposalEvidence
        {
            PeakDbfs = was.CheckPeakDbfs,
            NoiseFloorDbfs = was.NoiseFloorDbfs,
            TargetPeakDbfs = was.TargetDbfs,
            ShowPeakDbfs = was.ShowPeakDbfs,
        };
        return new(line, was, difference, new TrimPlan([line.Input], [new(ProposalKind.Trim, SettingValue.Gain(goal), reason)], null, evidence), null);
    }

    private static bool Same(string left, string right) => string.Equals(left.Trim(), right.Trim(), StringComparison.OrdinalIgnoreCase);

    private static Saying Text(ActInput line) => (line.Source, line.Player) switch
    {
        ({ } source, { } player) => Saying.Plain($"{source} ({player})"),
        ({ } source, null) => Saying.Plain(source),
        (null, { } player) => Saying.Plain(player),
        _ => RecallSayings.RecallUnnamed,
    };
}
