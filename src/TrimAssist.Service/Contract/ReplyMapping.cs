using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Patch;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;

namespace TrimAssist.Service.Contract;

/// <summary>Domain to replies. Levels are rounded to a hundredth of a dB; what is not finite is absent.</summary>
internal static class ReplyMapping
{
    public static ProposalReply ToReply(this Proposal proposal) => new(
        proposal.Id, proposal.Desk, proposal.Input, proposal.Inputs, proposal.Socket, proposal.Kind, proposal.From, proposal.To,
        proposal.Reason, Rounded(proposal.Evidence), [.. proposal.Affects.Select(one => one.ToString())], proposal.Needs, proposal.State, proposal.Digest,
        proposal.CreatedAt.Utc, proposal.ExpiresAt.Utc, proposal.SequenceId, proposal.Step, proposal.Steps, proposal.Outcome);

    public static AlarmReply ToReply(this Alarm alarm) => new(
        alarm.Id, alarm.GroupId, alarm.Desk, alarm.Input, alarm.Kind, alarm.Priority, Math.Round(alarm.At.Elapsed.TotalSeconds, 3), alarm.At.Utc,
        Level(alarm.SizeDb), alarm.State, alarm.Text, alarm.ProposalId);

    public static AlarmGroupReply ToReply(this ShownGroup group) => new(
        group.Id, group.Lead.Desk, group.Lead.Kind, group.Lead.Priority, group.Lead.State, group.Lead.At.Utc,
        [.. group.Alarms.Select(alarm => alarm.Input).OfType<int>().Distinct().Order()], group.Lead.Text, [.. group.Alarms.Select(ToReply)]);

    public static InputReply ToReply(this LiveInput live, string? source)
    {
        var settings = live.Settings;
        return new(
            settings.Input, settings.Label, source, settings.Socket, settings.LinkedTo, Level(live.PeakDbfs), Level(live.RmsDbfs),
            Level(live.HeldPeakDbfs), Level(live.LoudestPassageDbfs), Level(live.NoiseFloorDbfs), Level(live.PredictedDbfs?.Low),
            Level(live.PredictedDbfs?.Middle), Level(live.PredictedDbfs?.High), Level(settings.Trim?.Value), settings.PadOn,
            settings.PhantomOn, settings.Muted, Level(settings.FaderDb), live.Activity,
            live.Advice is { } advice ? new(advice.Kind, advice.Stage, Level(advice.ByDb), advice.Text, advice.Evidence) : null);
    }

    public static CheckReply ToReply(this SoundCheck check, IReadOnlyList<CheckResult> results, ProposalBook book, FaderSpread? spread = null) => new(
        check.Id, check.Desk, check.Inputs, check.State, check.StartedAt.Utc, check.FinishedAt?.Utc, check.Note, check.Aim,
        spread is null ? null : new(Math.Round(spread.NowDb, 1), spread.ProposedDb is { } proposed ? Math.Round(proposed, 1) : null),
        [.. results.Select(ToReply)],
        [.. results.Select(result => result.Proposal).OfType<Guid>().Distinct().Select(book.Find).OfType<Proposal>().Select(ToReply)]);

    public static PatchReply ToReply(this SafePatch patch, TimeSpan? lease) => new(
        patch.Id, patch.Desk, patch.Input, patch.Inputs, patch.State, patch.Text, patch.Reason, patch.OpenPaths, patch.PhantomOn, patch.Caution,
        patch.MutedBefore, lease is { } left ? (int)left.TotalMilliseconds : null, patch.AskedAt.Utc, patch.MuteProposal, patch.OpeningSequence,
        Rounded(patch.Before), Rounded(patch.After), Level(patch.After?.PeakOver(patch.Before)), Level(patch.After?.NoiseOver(patch.Before)), patch.Advice);

    public static double? Level(double? db) => db is { } value && double.IsFinite(value) ? Math.Round(value, 2) : null;

    private static CheckResultReply ToReply(CheckResult result)
    {
        var report = result.Report;
        return new(
            report.Input, Math.Round(report.ActiveS, 2), Level(report.Peak), report.Loudest is { } loudest
                ? new(Math.Round(loudest.StartS, 3), Math.Round(loudest.EndS, 3), Math.Round(loudest.Level.Value, 2), Math.Round(loudest.Peak.Value, 2))
                : null,
            Level(report.NoiseFloor), Level(report.SignalToNoise?.Value), report.Overloads, report.FlatTop, Level(report.Prediction?.Low),
            Level(report.Prediction?.Middle), Level(report.Prediction?.High), report.Prediction?.Confidence,
            Withheld: result.Proposal is null ? result.Advice : null, Advice: result.Proposal is null ? null : result.Advice, result.Proposal);
    }

    private static PatchLevels? Rounded(PatchLevels? levels) =>
        levels is null ? null : new(Level(levels.PeakDbfs), Level(levels.NoiseFloorDbfs), Level(levels.TrimDb));

    private static double? Level(Dbfs? level) => Level(level?.Value);

    private static ProposalEvidence Rounded(ProposalEvidence evidence) => evidence with
    {
        ActiveS = Level(evidence.ActiveS),
        PeakDbfs = Level(evidence.PeakDbfs),
        LoudestPassageDbfs = Level(evidence.LoudestPassageDbfs),
        NoiseFloorDbfs = Level(evidence.NoiseFloorDbfs),
        PredictedLowDbfs = Level(evidence.PredictedLowDbfs),
        PredictedShowPeakDbfs = Level(evidence.PredictedShowPeakDbfs),
        PredictedHighDbfs = Level(evidence.PredictedHighDbfs),
        AllowanceDb = Level(evidence.AllowanceDb),
        ShowPeakDbfs = Level(evidence.ShowPeakDbfs),
        SizeDb = Level(evidence.SizeDb),
    };
}
