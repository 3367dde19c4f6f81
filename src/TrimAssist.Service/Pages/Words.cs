using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Pages;

/// <summary>Every word of the page that does not come from the service's core, in one place.</summary>
internal static class Words
{
    public const string ServiceLost = "The service is not answering. This picture is old and its controls are off. It comes back by itself.";
    public const string MetersStopped = "No meters since {at}, {s} s ago. The bars are old and the controls are off.";
    public const string Refused = "Refused.";
    public const string NoAnswer = "No answer from the service within a second. Look at the desk before you try again.";
    public const string Changed = "It has just changed. Look again, then hold.";
    public const string ChangedMute = "It has just changed. Look again, then press twice.";
    public const string RaiseCaution = "Raising gain changes what people hear at once. Lower the fader or mute first.";
    public const string NotSoundLevels = "Meter readings are not sound levels: this service does not measure dB SPL and does not protect hearing. Local rules and the venue decide.";
    public const string PlugCaution = "Phantom power and plugging can send pops to loudspeakers and ears. Mute the channel first.";
    public const string StartCheck = "Start check";
    public const string FinishCheck = "Finish check";
    public const string Choose = "Inputs";
    public const string ChooseTitle = "Which inputs the check listens to";
    public const string ChooseNamed = "Named";
    public const string ChooseAll = "All";
    public const string ChooseNone = "None";
    public const string HeardEnough = "Heard enough.";
    public const string WatchOn = "Watch the show";
    public const string WatchOff = "End the watch";
    public const string Watching = "Watching the show. No increase is proposed.";
    public const string Decline = "Decline";
    public const string Seen = "Seen";
    public const string Shelve = "Shelve 5 min";
    public const string NoDesk = "No desk was given to this service.";
    public const string NothingUrgent = "Nothing urgent.";
    public const string ShowOnly = "Show";
    public const string FilterAll = "All";
    public const string FilterNeeds = "Needs you";
    public const string FilterClipping = "Clipping";
    public const string FilterSilent = "Silent";
    public const string Look = "Look";
    public const string Dark = "Dark";
    public const string Light = "Light";
    public const string Contrast = "High contrast";
    public const string Compact = "Compact rows";
    public const string Large = "Large rows";
    public const string Keys = "Controls and marks";
    public const string Muted = "muted";
    public const string Pad = "pad";
    public const string Phantom = "48 V";
    public const string Clips = "clips";
    public const string TrimHead = "Trim dB";
    public const string ProposalHead = "Proposal";

    /// <summary>What the bar's marks and the controls' gestures mean: a mark's class and its words.</summary>
    public static IReadOnlyList<(string Mark, string Text)> Key { get; } =
    [
        ("peak", "Level: bright to the peak, dark to the RMS."),
        ("floor", "Hatched: the noise floor."),
        ("passage", "Box: the loudest passage, from its level to its highest peak."),
        ("target", "Gate: the target for the loudest show peak."),
        ("forecast", "Dot with whiskers: the show's highest peak as predicted, and where nine in ten shows should land. An arrow: beyond the scale."),
        ("full", "Line at 0: full scale. Beyond it the input clips."),
        ("hold", "Trim, pad, unmute: press and hold, or focus and hold Enter or Space, until the control fills. Letting go early changes nothing."),
        ("twice", "Mute: press, then press again within three seconds. A double click does not count."),
        ("escape", "Escape lets go."),
    ];

    /// <summary>A level or gain with one decimal and a true minus; a dash where nothing is known.</summary>
    public static string Db(double? db) => db is { } value && double.IsFinite(value) ? value.ToString("0.0", null).Replace('-', '−') : "–";

    /// <summary>A difference with its sign.</summary>
    public static string Change(double db) => (db > 0 ? "+" : "") + Db(db);

    public static string Link(LinkState state) => state switch
    {
        LinkState.Live => "live",
        LinkState.Stale => "meters stopped",
        LinkState.Lost => "desk lost",
        _ => "connecting",
    };

    public static string What(Proposal proposal) => proposal.Kind switch
    {
        ProposalKind.Trim => $"{Db(proposal.From.Db)} → {Db(proposal.To.Db)} dB ({Change(Rise(proposal))})",
        ProposalKind.Pad => proposal.To.On is true ? "pad out → in" : "pad in → out",
        ProposalKind.Mute => "open → muted",
        _ => "muted → open",
    };

    /// <summary>Why, in a sentence that fits a row; the whole reason stands behind it.</summary>
    public static string Why(Proposal proposal) => proposal switch
    {
        { IsOpen: false } => proposal.Outcome ?? "",
        { Kind: ProposalKind.Trim, Steps: 1, Evidence: { PredictedShowPeakDbfs: { } peak, TargetPeakDbfs: { } target } } =>
            $"Show peak expected at {Db(peak)}, target {Db(target)}.",
        { Steps: > 1 } => $"Step {proposal.Step} of {proposal.Steps}. {proposal.Reason}",
        _ => proposal.Reason,
    };

    /// <summary>The whole reason, with whom the change reaches.</summary>
    public static string WholeReason(Proposal proposal) =>
        proposal.Affects.Count > 0 ? $"{proposal.Reason} It reaches: {string.Join(", ", proposal.Affects)}." : proposal.Reason;

    public static string Gesture(Proposal proposal) => proposal.Kind switch
    {
        ProposalKind.Trim => "Hold to set",
        ProposalKind.Pad => proposal.To.On is true ? "Hold: pad in" : "Hold: pad out",
        ProposalKind.Mute => "Mute",
        _ => "Hold: unmute",
    };

    /// <summary>What a screen reader says of a control: gesture, input and values.</summary>
    public static string GestureFor(Proposal proposal, string called) => $"{Gesture(proposal)}, input {called}, {What(proposal)}";

    /// <summary>What the second gesture names.</summary>
    public static string Danger(Proposal proposal)
    {
        if (proposal.Kind == ProposalKind.Mute)
            return "Press again to mute";
        var words = new List<string>(3);
        if (proposal.Needs.Contains(Dangers.OpenIncrease, StringComparer.Ordinal))
            words.Add(proposal.Kind == ProposalKind.Trim ? $"It is open: up {Db(Rise(proposal))} dB at once." : "It is open: louder at once.");
        if (proposal.Needs.Contains(Dangers.SharedPreamp, StringComparer.Ordinal))
            words.Add("Others share this preamp.");
        words.Add("Hold again");
        return string.Join(' ', words);
    }

    public static string State(ProposalState state) => state switch
    {
        ProposalState.Confirmed => "… sent",
        ProposalState.Applied => "✓ verified",
        ProposalState.Failed => "✗ failed",
        ProposalState.Unknown => "? not read back",
        _ => "",
    };

    public static string Kind(AlarmKind kind) => kind switch
    {
        AlarmKind.Pop => "Pop",
        AlarmKind.Crackle => "Crackle",
        AlarmKind.StepUp => "Jump up",
        AlarmKind.StepDown => "Jump down",
        AlarmKind.Overload => "Overload",
        AlarmKind.FlatTop => "Flat tops",
        AlarmKind.Hot => "Hot",
        AlarmKind.Dropout => "Drop-out",
        AlarmKind.Ring => "Ring",
        AlarmKind.NoiseRise => "Noise",
        AlarmKind.DeskStale => "Desk",
        _ => "Moved",
    };

    public static string Priority(AlarmPriority priority) => priority switch
    {
        AlarmPriority.High => "‼ now",
        AlarmPriority.Medium => "! this song",
        _ => "when there is time",
    };

    public static string MoreAlarms(int count) => count == 1 ? "1 more" : $"{count} more";

    /// <summary>Where the check or the show stands, in one line.</summary>
    public static string Status(int inCheck, IReadOnlyList<string> notYet) => (inCheck - notYet.Count, notYet.Count) switch
    {
        (var heard, 0) => $"Check: all {heard} inputs heard enough.",
        (var heard, _) => $"Check: {heard} of {inCheck} heard enough. Not yet: {string.Join(", ", notYet)}.",
    };

    public static string Waiting(int proposals) => proposals switch
    {
        0 => "No proposal waits.",
        1 => "1 proposal waits.",
        _ => $"{proposals} proposals wait.",
    };

    private static double Rise(Proposal proposal) => proposal.To.Db.GetValueOrDefault() - proposal.From.Db.GetValueOrDefault();
}
