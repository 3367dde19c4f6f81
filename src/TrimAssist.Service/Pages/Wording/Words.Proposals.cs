using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Pages.Wording;

// Words about proposals, their controls and what became of them.
internal static partial class Words
{
    // A check peak from here on clipped: the true level is not known. AES17 full scale less the reading's last digit.
    private const double FullScaleDbfs = -0.1;

    public static string Decline => Text();
    public static string Undo => Text();
    public static string WhyShort => Text();
    public static string MuteFirst => Text();
    public static string TrimHead => Text();
    public static string ProposalHead => Text();
    public static string Review => Text();
    public static string ReviewTitle => Text();
    public static string UpUnticked => Text();
    public static string HoldAll => Text();
    public static string What(Proposal proposal) => WhatChanged(proposal.Kind, proposal.From, proposal.To);

    /// <summary>A setting's way from one value to another.</summary>
    public static string WhatChanged(ProposalKind kind, SettingValue from, SettingValue to) => kind switch
    {
        ProposalKind.Trim => $"{Db(from.Db)} → {Db(to.Db)} dB ({Db(to.Db.GetValueOrDefault() - from.Db.GetValueOrDefault())})",
        ProposalKind.Pad => Text(to.On is true ? "PadIn" : "PadOut"),
        ProposalKind.Mute => Text("ToMuted"),
        _ => Text("ToOpen"),
    };

    /// <summary>Why, in a sentence that fits a row; the whole reason stands behind it.</summary>
    public static Sentence Why(Proposal proposal) => proposal switch
    {
        { IsOpen: false } => Said(proposal.Outcome),
        { Kind: ProposalKind.Trim, Steps: 1, Evidence: { PeakDbfs: < FullScaleDbfs, PredictedShowPeakDbfs: { } peak, TargetPeakDbfs: { } target } } =>
            new(Filled("WhyTrim", Db(peak), Round(target)), null),
        { Kind: ProposalKind.Trim, Steps: 1, Evidence: { PeakDbfs: >= FullScaleDbfs, PredictedShowPeakDbfs: not null } } => new(Text("WhyClipped"), null),
        { Kind: ProposalKind.Mute, Steps: 1, Evidence.SizeDb: { } size } => new(Filled("WhyPop", Size(size)), null),
        { Steps: > 1 } => Said(proposal.Reason) is var reason ? reason with { Text = Filled("WhyStep", proposal.Step, proposal.Steps, reason.Text) } : default,
        _ => Said(proposal.Reason),
    };

    /// <summary>Whom a change reaches.</summary>
    public static string Reaches(Proposal proposal) => Filled("Reaches", string.Join(", ", proposal.Affects.Select(one => Said(one).Text)));

    /// <summary>The figures behind a proposal, each with its name.</summary>
    public static IReadOnlyList<(string Name, Sentence Figure)> Figures(ProposalEvidence evidence) =>
    [
        .. Figure("FigureActive", evidence.ActiveS is { } seconds ? Filled("FigureSeconds", Size(seconds)) : null),
        .. Figure("FigurePassage", Dbfs(evidence.LoudestPassageDbfs)),
        .. Figure("FigurePeak", Dbfs(evidence.PeakDbfs)),
        .. Figure("FigureFloor", Dbfs(evidence.NoiseFloorDbfs)),
        .. Figure("FigureShow", evidence is { PredictedShowPeakDbfs: { } peak, PredictedLowDbfs: { } low, PredictedHighDbfs: { } high }
            ? Filled("FigureInterval", Db(peak), Db(low), Db(high)) : null),
        .. evidence.AllowanceBasis is { } basis ? [(Text("FigureAllowance"), Said(basis))] : Figure("FigureAllowance", evidence.AllowanceDb is { } added ? $"{Db(added)} dB" : null),
        .. Figure("FigureTarget", Dbfs(evidence.TargetPeakDbfs)),
        .. Figure("FigureConfidence", evidence.Confidence is { } confidence ? Text($"Confidence{confidence}") : null),
    ];

    public static string Gesture(Proposal proposal) => proposal.Kind switch
    {
        ProposalKind.Trim => Text("HoldTrim"),
        ProposalKind.Pad => Text(proposal.To.On is true ? "HoldPadIn" : "HoldPadOut"),
        ProposalKind.Mute => Text("PressMute"),
        _ => Text("HoldUnmute"),
    };

    /// <summary>What a screen reader hears after a control's own words: input and values.</summary>
    public static string About(Proposal proposal, string called) => Filled("AboutControl", called, What(proposal));

    /// <summary>What the second gesture names.</summary>
    public static string Danger(Proposal proposal, string called)
    {
        if (proposal.Kind == ProposalKind.Mute)
            return Filled("AgainMuteText", called);
        var words = new List<string>(3);
        if (proposal.Needs.Contains(Dangers.OpenIncrease, StringComparer.Ordinal))
            words.Add(proposal.Kind == ProposalKind.Trim ? Filled("DangerTrim", Db(Rise(proposal))) : Text("DangerOther"));
        if (proposal.Needs.Contains(Dangers.SharedPreamp, StringComparer.Ordinal))
            words.Add(Text("DangerShared"));
        words.Add(Text("HoldAgain"));
        return string.Join(' ', words);
    }

    public static string State(ProposalState state) => state is ProposalState.Confirmed or ProposalState.Applied or ProposalState.Failed or ProposalState.Unknown
        ? Text($"State{state}")
        : "";

    /// <summary>Which proposals a reviewed list leaves to their own rows.</summary>
    public static string OneByOne(IEnumerable<string> inputs) => Filled("OneByOne", string.Join(", ", inputs));

    public static string Waiting(int proposals) => proposals switch
    {
        0 => Text("WaitNone"),
        1 => Text("WaitOne"),
        _ => Filled("WaitMany", proposals),
    };

    private static string? Dbfs(double? level) => level is { } db ? $"{Db(db)} dBFS" : null;

    private static IEnumerable<(string Name, Sentence Figure)> Figure(string name, string? figure) => figure is null ? [] : [(Text(name), new(figure, null))];

    private static double Rise(Proposal proposal) => proposal.To.Db.GetValueOrDefault() - proposal.From.Db.GetValueOrDefault();
}
