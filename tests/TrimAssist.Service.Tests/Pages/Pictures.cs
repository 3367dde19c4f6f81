using TrimAssist.Core.Alarms;
using TrimAssist.Core.Assist;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using TrimAssist.Service.Pages.Picture;

namespace TrimAssist.Service.Tests.Pages;

/// <summary>Pictures of an invented desk, as the page would be given them.</summary>
internal static class Pictures
{
    public static Moment Now { get; } = new(TimeSpan.FromSeconds(100), new DateTimeOffset(2026, 7, 25, 18, 0, 0, TimeSpan.Zero));

    public static DeskSnapshot Desk(params LiveInput[] inputs) => new()
    {
        Number = 1,
        Desk = "barn",
        DeskName = "Barn desk",
        Link = LinkState.Live,
        LinkReason = Saying.Plain("Meters arrive."),
        Watching = false,
        TargetsDbfs = [.. inputs.Select(_ => -12.0)],
        Inputs = inputs,
        Proposals = [],
        Alarms = [],
        Patches = [],
        CheckWords = new Dictionary<int, Saying?>(),
    };

    public static LiveInput Input(int number, string? name = null, Activity activity = Activity.Playing) => new(
        new InputSettings { Input = number, Label = name, Trim = new Decibels(30), Muted = false },
        -14,
        -22,
        -9.5,
        -21,
        -71,
        (-12, -6, 0.5),
        activity);

    public static Proposal Trim(int input, double from, double to, params string[] needs) =>
        Proposal(input, ProposalKind.Trim, SettingValue.Gain(from), SettingValue.Gain(to)) with
        {
            Needs = needs,
            Evidence = new ProposalEvidence { PeakDbfs = -9.5, PredictedShowPeakDbfs = -4.2, TargetPeakDbfs = -12 },
        };

    public static Proposal Mute(int input) => Proposal(input, ProposalKind.Mute, SettingValue.Switch(false), SettingValue.Switch(true));

    public static Alarm Alarm(AlarmKind kind, int? input, AlarmPriority priority = AlarmPriority.High) => Alarm(Guid.NewGuid(), kind, input, priority);

    /// <summary>Alarms of one cause, one on each input.</summary>
    public static IReadOnlyList<Alarm> Group(AlarmKind kind, params int[] inputs)
    {
        var cause = Guid.NewGuid();
        return [.. inputs.Select(input => Alarm(Guid.NewGuid(), kind, input, AlarmPriority.High) with { GroupId = cause })];
    }

    private static Alarm Alarm(Guid id, AlarmKind kind, int? input, AlarmPriority priority) => new()
    {
        Id = id,
        GroupId = id,
        Desk = "barn",
        Input = input,
        Kind = kind,
        Priority = priority,
        At = Now,
        Text = Saying.Plain("Something happened."),
    };

    public static SoundCheck Check(params int[] inputs) => new(Guid.NewGuid(), "barn", inputs, CheckState.Listening, Now, null, null);

    private static Proposal Proposal(int input, ProposalKind kind, SettingValue from, SettingValue to)
    {
        var id = Guid.NewGuid();
        return new Proposal
        {
            Id = id,
            Desk = "barn",
            Inputs = [input],
            Kind = kind,
            From = from,
            To = to,
            Reason = Saying.Plain("Because it is so."),
            Evidence = new ProposalEvidence(),
            Affects = [],
            Needs = [],
            Digest = id.ToString("N"),
            CreatedAt = Now,
            ExpiresAt = Now.After(TimeSpan.FromMinutes(15)),
            SequenceId = id,
        };
    }
}
