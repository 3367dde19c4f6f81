using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Report;

/// <summary>The gain sheet of an act: what each input had, what was heard, and who confirmed what. Levels are dBFS at the gain of the end; what is not known is null.</summary>
/// <param name="Act">The act.</param>
/// <param name="Desk">The desk's id.</param>
/// <param name="BegunAt">When it came on.</param>
/// <param name="Watched">Whether its show was heard.</param>
/// <param name="LoudPassageSpreadDb">How far the loud passages lie apart at unity gain after the preamp: highest less lowest of the performers' inputs.</param>
/// <param name="Inputs">The inputs.</param>
/// <param name="Changes">What was confirmed, in order.</param>
/// <param name="AlarmRates">How often the engineer was called.</param>
/// <param name="LinesUnread">How many of the journal's lines from the act's time cannot be read: what they said is missing here.</param>
public sealed record GainSheet(
    string Act, string Desk, DateTimeOffset BegunAt, bool Watched, double? LoudPassageSpreadDb, IReadOnlyList<SheetInput> Inputs, IReadOnlyList<SheetChange> Changes,
    SheetAlarms AlarmRates, int LinesUnread);

/// <summary>How many alarms an act had, by the measures of IEC 62682; see <see cref="Core.Alarms.AlarmFigures"/>. Shares are from 0 to 1, <see langword="null"/> where there was no alarm.</summary>
/// <param name="Alarms">While the act was on; one cause counts once.</param>
/// <param name="WorstTenMinutes">The worst ten minutes of it.</param>
/// <param name="FloodShare">The share of the time in flood.</param>
/// <param name="HighShare">The share of high alarms.</param>
/// <param name="MediumShare">The share of medium alarms.</param>
/// <param name="LowShare">The share of low alarms.</param>
/// <param name="Chattering">How often an alarm came for the third time within a minute.</param>
public sealed record SheetAlarms(int Alarms, int WorstTenMinutes, double FloodShare, double? HighShare, double? MediumShare, double? LowShare, long Chattering);

/// <summary>One input of the sheet.</summary>
public sealed record SheetInput(
    int Input, string? Name, string? Source, SourceRole Role, string? Player, double? TrimDb, bool? PadOn, double? TargetDbfs, double? CheckPeakDbfs,
    double? ShowPeakDbfs, bool Clipped, double? LoudestPassageDbfs, double? NoiseFloorDbfs, double? AllowanceDb, string? AllowanceBasis,
    IReadOnlyList<string> Alarms, string? Note);

/// <summary>One confirmed change.</summary>
public sealed record SheetChange(DateTimeOffset At, int Input, ProposalKind Kind, SettingValue From, SettingValue To, string By, ProposalState State);
