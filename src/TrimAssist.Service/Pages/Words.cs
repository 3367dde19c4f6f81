using System.Globalization;
using System.Resources;
using System.Runtime.CompilerServices;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Pages.Order;

namespace TrimAssist.Service.Pages;

/// <summary>
/// Every word of the page that does not come from the service's core, in the language of whoever looks: Texts.resx holds English,
/// Texts.de.resx German. A reason or an alarm's text is the core's own and stays English; <see cref="CoreLanguage"/> marks it.
/// </summary>
internal static class Words
{
    /// <summary>The languages that the page speaks, by name and as they call themselves.</summary>
    public static readonly IReadOnlyList<(string Name, string Called)> Languages = [("en", "English"), ("de", "Deutsch")];

    /// <summary>The language of the core's own sentences, where the page speaks another: for screen readers.</summary>
    public static string? CoreLanguage => Language is "en" ? null : "en";

    /// <summary>The page's language now.</summary>
    public static string Language => Languages.FirstOrDefault(one => string.Equals(one.Name, CultureInfo.CurrentUICulture.Name, StringComparison.Ordinal)).Name ?? "en";

    // What the stage view can show.
    private static readonly string[] States = ["Look", "None", "Waiting", "Safe", "Partly", "Settling", "Done", "Stop"];

    private static readonly int[] SpansMinutes = [2, 10, 30];

    /// <summary>The texts themselves: for the test that none is missing.</summary>
    internal static readonly ResourceManager Texts = new("TrimAssist.Service.Pages.Texts", typeof(Words).Assembly);

    public static string ServiceLost => Text();
    public static string MetersStopped => Text();
    public static string Refused => Text();
    public static string NoAnswer => Text();
    public static string Changed => Text();
    public static string ChangedMute => Text();
    public static string RaiseCaution => Text();
    public static string NotSoundLevels => Text();
    public static string PlugCaution => Text();
    public static string StartCheck => Text();
    public static string FinishCheck => Text();
    public static string Choose => Text();
    public static string ChooseTitle => Text();
    public static string ChooseNamed => Text();
    public static string ChooseAll => Text();
    public static string ChooseNone => Text();
    public static string HeardEnough => Text();
    public static string WatchOn => Text();
    public static string WatchOff => Text();
    public static string Watching => Text();
    public static string Decline => Text();
    public static string Undo => Text();
    public static string MuteFirst => Text();
    public static string Alarms => Text();
    public static string Seen => Text();
    public static string Shelve => Text();
    public static string NoDesk => Text();
    public static string NothingUrgent => Text();

    public static string NothingConfirmed => Text();
    public static string ShowOnly => Text();
    public static string FilterAll => Text();
    public static string FilterNeeds => Text();
    public static string FilterClipping => Text();
    public static string FilterHissing => Text();
    public static string FilterSilent => Text();
    public static string Menu => Text();
    public static string Views => Text();
    public static string LanguageHead => Text("Language");
    public static string Look => Text();
    public static string Dark => Text();
    public static string Light => Text();
    public static string Contrast => Text();
    public static string Compact => Text();
    public static string Large => Text();
    public static string Keys => Text();
    public static string Muted => Text();
    public static string Pad => Text();
    public static string Phantom => Text();
    public static string Clips => Text();
    public static string Hisses => Text();
    public static string Plugging => Text();
    public static string TrimHead => Text();
    public static string ProposalHead => Text();
    public static string Review => Text();
    public static string ReviewTitle => Text();
    public static string UpUnticked => Text();
    public static string HoldAll => Text();
    public static string Taken => Text();
    public static string NotSent => Text();
    public static string StageAsks => Text();
    public static string Stage => Text();
    public static string Engineer => Text();
    public static string StageChoose => Text();
    public static string StageMine => Text();
    public static string StageOthers => Text();
    public static string StageAsk => Text();
    public static string StagePlugged => Text();
    public static string StageWhy => Text();
    public static string StagePlayLoud => Text();
    public static string StageThanks => Text();
    public static string StageNothing => Text();
    public static string History => Text();
    public static string HistoryKept => Text();
    public static string Earlier => Text();
    public static string Later => Text();
    public static string ToNow => Text();
    public static string Chart => Text();
    public static string Floor => Text();
    public static string Target => Text();
    public static string LegendPeak => Text();
    public static string LegendRms => Text();
    public static string LegendMoved => Text();
    public static string LegendEvent => Text();
    public static string NoAlarms => Text();
    public static string Flood => Text();
    public static string Changeover => Text();
    public static string Acts => Text();
    public static string NextStart => Text();
    public static string NoStart => Text();
    public static string NoActs => Text();
    public static string IsOn => Text();
    public static string BeginAct => Text();
    public static string Player => Text();
    public static string CheckHead => Text();
    public static string AlarmSound => Text();
    public static string SoundOn => Text();
    public static string SoundOff => Text();

    /// <summary>How much of the past the history view shows, in seconds.</summary>
    public static IReadOnlyList<(int Seconds, string Called)> Spans =>
        [.. SpansMinutes.Select(minutes => (minutes * 60, Filled("SpanMinutes", minutes))), (3600, Filled("SpanHours", 1)), (7200, Filled("SpanHours", 2))];

    /// <summary>What the stage may say that it wants to plug.</summary>
    public static IReadOnlyList<string> StageReasons => [Text("StageSwap"), Text("StageCable"), Text("StageLeave")];

    /// <summary>What the stage view's script shows in large type: a state, its word, and one sentence more.</summary>
    public static IReadOnlyList<(string State, string Big, string More)> StageStates =>
        [.. States.Select(state => (
            state.ToLowerInvariant(), Text($"Stage{state}"), state is "Look" ? "" : Text($"Stage{state}More")))];

    /// <summary>The paths that a mute may leave open, as the stage calls them.</summary>
    public static IReadOnlyList<(string Path, string Called)> StagePaths =>
        [("main", Text("StageOpenMain")), ("sends", Text("StageOpenSends")), ("direct", Text("StageOpenDirect"))];

    /// <summary>What the bar's marks and the controls' gestures mean: a mark's class and its words.</summary>
    public static IReadOnlyList<(string Mark, string Text)> Key =>
    [
        ("peak", Text("KeyPeak")),
        ("floor", Text("KeyFloor")),
        ("passage", Text("KeyPassage")),
        ("target", Text("KeyTarget")),
        ("forecast", Text("KeyForecast")),
        ("full", Text("KeyFull")),
        ("hold", Text("KeyHold")),
        ("twice", Text("KeyTwice")),
        ("escape", Text("KeyEscape")),
    ];

    /// <summary>A level or gain with one decimal and a true minus; a dash where nothing is known.</summary>
    public static string Db(double? db) => db is { } value && double.IsFinite(value) ? value.ToString("0.0", null).Replace('-', '−') : "–";

    /// <summary>A level without a needless decimal.</summary>
    public static string Round(double db) => db.ToString("0.#", null).Replace('-', '−');

    /// <summary>A difference with its sign.</summary>
    public static string Change(double db) => (db > 0 ? "+" : "") + Db(db);

    /// <summary>A remark of the check as a sentence.</summary>
    public static string Sentence(string remark) => remark.Length == 0 ? remark : $"{char.ToUpperInvariant(remark[0])}{remark[1..].TrimEnd('.')}.";

    public static string Link(LinkState state) => state switch
    {
        LinkState.Live => Text("LinkLive"),
        LinkState.Stale => Text("LinkStale"),
        LinkState.Lost => Text("LinkLost"),
        _ => Text("LinkConnecting"),
    };

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

    public static string Kind(AlarmKind kind) => Text($"Kind{kind}");

    /// <summary>Which proposals a reviewed list leaves to their own rows.</summary>
    public static string OneByOne(IEnumerable<string> inputs) => Filled("OneByOne", string.Join(", ", inputs));

    /// <summary>An input as a screen reader names it.</summary>
    public static string Input(string called) => Filled("InputCalled", called);

    /// <summary>The window of a row in words.</summary>
    public static string Bar(double? held, double? passage, double? floor, double? forecast) =>
        Filled("Bar", Said(held), Said(passage), Said(floor), Said(forecast));

    public static string Priority(AlarmPriority priority) => priority switch
    {
        AlarmPriority.High => Text("PriorityHigh"),
        AlarmPriority.Medium => Text("PriorityMedium"),
        _ => Text("PriorityLow"),
    };

    /// <summary>How soon to act; for what is over or seen, that.</summary>
    public static string Urgency(Alarm alarm) => alarm.State switch
    {
        AlarmState.Returned => Text("AlarmOver"),
        AlarmState.Acknowledged => Text("AlarmSeen"),
        _ => Priority(alarm.Priority),
    };

    /// <summary>Where an alarm stands, active or not.</summary>
    public static string Standing(Alarm alarm) => alarm.IsActive ? Urgency(alarm) : Text($"Standing{alarm.State}");

    /// <summary>How many alarms there were lately, beside what is usual.</summary>
    public static string Rates(int lastTenMinutes, int lastHour) => Filled("Rates", lastTenMinutes, lastHour);

    /// <summary>A chart in words.</summary>
    public static string ChartDescribed(double? peak, double? floor, double target, int alarms, int changes) =>
        Filled("ChartDescribed", Said(peak), Said(floor), Round(target), alarms, changes);

    /// <summary>A countdown, to the second.</summary>
    public static string Countdown(TimeSpan left) => left >= TimeSpan.FromHours(1)
        ? Filled("CountdownHours", (int)left.TotalHours, left.Minutes, left.Seconds)
        : Filled("CountdownText", left.Minutes, left.Seconds);

    /// <summary>What the countdown runs to.</summary>
    public static string UntilAct(string act, TimeOnly starts) => Filled("UntilActText", act, ShortClock(starts));

    /// <summary>A time of the running order.</summary>
    public static string ShortClock(TimeOnly time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Head of the column that compares with the act before.</summary>
    public static string DiffersFrom(string act) => Filled("DiffersFromText", act);

    /// <summary>How many inputs of an act are checked, and which are not.</summary>
    public static string CheckedOf(int heard, int wanted, IEnumerable<string> left) =>
        heard == wanted ? Filled("CheckedOfAll", wanted) : Filled("CheckedOfText", heard, wanted, string.Join(", ", left));

    public static string Checked(CheckedState state) => Text($"Checked{state}");

    /// <summary>How an input differs from the act before.</summary>
    public static string Differs(LineChange change, ActInput? before) => change switch
    {
        LineChange.New => Text("DiffersNew"),
        LineChange.Other => Filled("DiffersOther", string.Join(", ", new[] { before?.Source ?? before?.Name, before?.Player }.OfType<string>())),
        _ => "",
    };

    /// <summary>Inputs that nobody uses any more.</summary>
    public static string Freed(IEnumerable<string> inputs) => Filled("FreedText", string.Join(", ", inputs));

    /// <summary>A time of day.</summary>
    public static string Clock(DateTimeOffset time) => time.ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    public static string MoreAlarms(int count) => Filled("MoreAlarms", count);

    /// <summary>Where the check or the show stands, in one line.</summary>
    public static string Status(int inCheck, IReadOnlyList<string> notYet) => (inCheck - notYet.Count, notYet.Count) switch
    {
        (var heard, 0) => Filled("CheckAll", heard),
        (var heard, _) => Filled("CheckSome", heard, inCheck, string.Join(", ", notYet)),
    };

    public static string Waiting(int proposals) => proposals switch
    {
        0 => Text("WaitNone"),
        1 => Text("WaitOne"),
        _ => Filled("WaitMany", proposals),
    };

    private static string Said(double? db) => db is { } value && double.IsFinite(value) ? Db(value) : Text("Unread");

    private static string Text([CallerMemberName] string name = "") => Texts.GetString(name, CultureInfo.CurrentUICulture) ?? name;

    private static string Filled(string name, params ReadOnlySpan<object?> values) => string.Format(CultureInfo.InvariantCulture, Text(name), values);

    private static double Rise(Proposal proposal) => proposal.To.Db.GetValueOrDefault() - proposal.From.Db.GetValueOrDefault();
}
