using TrimAssist.Core.Alarms;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Pages;

/// <summary>Every word of the page, in one place.</summary>
internal static class Words
{
    public const string ServiceLost = "The service is not answering. This picture is old. It comes back by itself.";
    public const string RaiseCaution = "Raising gain changes what people hear at once. Lower the fader or mute first.";
    public const string NotSoundLevels = "Meter readings are not sound levels: this service does not measure dB SPL and does not protect hearing. Local rules and the venue decide.";
    public const string PlugCaution = "Phantom power and plugging can send pops to loudspeakers and ears. Mute the channel first.";
    public const string StartCheck = "Start check";
    public const string FinishCheck = "Finish check";
    public const string WatchOn = "Watch the show";
    public const string WatchOff = "End the watch";
    public const string Decline = "Decline";
    public const string Seen = "Seen";
    public const string Shelve = "Shelve 5 min";
    public const string NoDesk = "No desk was given to this service.";
    public const string NothingUrgent = "Nothing urgent.";

    /// <summary>A level or gain with one decimal and a true minus; a dash where nothing is known.</summary>
    public static string Db(double? db) => db is { } value ? value.ToString("0.0", null).Replace('-', '−') : "–";

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
        ProposalKind.Trim => $"{Db(proposal.From.Db)} → {Db(proposal.To.Db)} dB ({Change(proposal.To.Db!.Value - proposal.From.Db!.Value)})",
        ProposalKind.Pad => proposal.To.On is true ? "pad in" : "pad out",
        ProposalKind.Mute => "mute",
        _ => "unmute",
    };

    public static string HoldTo(Proposal proposal) => proposal.Kind switch
    {
        ProposalKind.Trim => "Hold to set",
        ProposalKind.Pad => proposal.To.On is true ? "Hold: pad in" : "Hold: pad out",
        ProposalKind.Mute => "Hold to mute",
        _ => "Hold to unmute",
    };

    /// <summary>What the second gesture names.</summary>
    public static string Danger(Proposal proposal)
    {
        var open = proposal.Needs.Contains(Dangers.OpenIncrease, StringComparer.Ordinal) ? "It is open: louder at once." : null;
        var shared = proposal.Needs.Contains(Dangers.SharedPreamp, StringComparer.Ordinal) ? "Others share this preamp." : null;
        return string.Join(' ', new[] { open, shared, "Hold again." }.OfType<string>());
    }

    public static string State(ProposalState state) => state switch
    {
        ProposalState.Confirmed => "sent …",
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
        AlarmPriority.High => "now",
        AlarmPriority.Medium => "this song",
        _ => "when there is time",
    };
}
