using TrimAssist.Core.Alarms;

namespace TrimAssist.Service.Pages.Records;

/// <summary>The alarms that a desk's board remembers, and how many there were lately.</summary>
/// <param name="All">Every alarm remembered, newest first, but for those that later frames took back.</param>
/// <param name="Figures">How many there were; <see langword="null"/> before the first look.</param>
public sealed record AlarmRecord(IReadOnlyList<Alarm> All, AlarmFigures? Figures)
{
    /// <summary>Nothing looked at yet.</summary>
    public static AlarmRecord Empty { get; } = new([], null);

    /// <summary>The record of a board. Called on the desk's loop.</summary>
    public static AlarmRecord Of(AlarmBoard board) => new([.. board.All.Where(alarm => alarm.State != AlarmState.Withdrawn)], board.Figures);
}
