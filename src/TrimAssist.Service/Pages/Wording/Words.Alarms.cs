using TrimAssist.Core.Alarms;

namespace TrimAssist.Service.Pages.Wording;

// Words about alarms.
internal static partial class Words
{
    // Beyond so many only numbers fit the banner; each row says its name.
    private const int MostCalled = 3;

    public static string Alarms => Text();
    public static string Seen => Text();
    public static string Shelve => Text();
    public static string NothingUrgent => Text();
    public static string StageAsks => Text();
    public static string NoAlarms => Text();
    public static string Flood => Text();
    public static string AlarmSound => Text();
    public static string SoundOn => Text();
    public static string SoundOff => Text();
    public static string Kind(AlarmKind kind) => Text($"Kind{kind}");

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

    public static string MoreAlarms(int count) => Filled("MoreAlarms", count);

    /// <summary>What a matter is about: its kind, and the input or, where one cause struck several, how many and which.</summary>
    public static string Matter(AlarmKind kind, IReadOnlyList<(int Number, string Called)> inputs) => inputs.Count switch
    {
        0 => Kind(kind),
        1 => $"{Kind(kind)} · {inputs[0].Called}",
        <= MostCalled => Filled("MatterSeveral", Kind(kind), inputs.Count, string.Join(", ", inputs.Select(one => one.Called))),
        _ => Filled("MatterSeveral", Kind(kind), inputs.Count, string.Join(", ", inputs.Select(one => one.Number))),
    };

    public static string MuteSeveral(int count) => Filled("MuteSeveralText", count);

    public static string AgainMuteSeveral(int count) => Filled("AgainMuteSeveralText", count);
}
