using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Pages.Wording;

// Words about proposals, their controls and what became of them.
internal static partial class Words
{
    public static string Decline => Text();
    public static string Undo => Text();
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
        ProposalKind.Trim => $"{Db(from.Db)} → {Db(to.Db)} dB ({Change(to.Db.GetValueOrDefault() - from.Db.GetValueOrDefault())})",
        ProposalKind.Pad => Text(to.On is true ? "PadIn" : "PadOut"),
        ProposalKind.Mute => Text("ToMuted"),
        _ => Text("ToOpen"),
    };

    /// <summary>Why, in a sentence that fits a row; the whole reason stands behind it.</summary>
    public static string Why(Proposal proposal) => proposal switch
    {
        { IsOpen: false } => proposal.Outcome ?? "",
        { Kind: ProposalKind.Trim, Steps: 1, Evidence: { PredictedShowPeakDbfs: { } peak, TargetPeakDbfs: { } target } } =>
            Filled("WhyTrim", Db(peak), Round(target)),
        { Kind: ProposalKind.Mute, Steps: 1, Evidence.SizeDb: { } size } => Filled("WhyPop", Round(Math.Round(size))),
        { Steps: > 1 } => Filled("WhyStep", proposal.Step, proposal.Steps, proposal.Reason),
        _ => proposal.Reason,
    };

    /// <summary>The whole reason, with whom the change reaches.</summary>
    public static string WholeReason(Proposal proposal) =>
        proposal.Affects.Count > 0 ? Filled("Reaches", proposal.Reason, string.Join(", ", proposal.Affects)) : proposal.Reason;

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
    public static string Danger(Proposal proposal)
    {
        if (proposal.Kind == ProposalKind.Mute)
            return Text("AgainMute");
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

    private static double Rise(Proposal proposal) => proposal.To.Db.GetValueOrDefault() - proposal.From.Db.GetValueOrDefault();
}
