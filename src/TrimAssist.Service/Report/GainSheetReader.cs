using System.Text.Json;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Alarms;
using TrimAssist.Core.Checks;
using TrimAssist.Core.Journal;
using TrimAssist.Core.Proposals;
using TrimAssist.Journal;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Report;

/// <summary>Puts an act's gain sheet together from the journal; the service may be running beside it.</summary>
internal sealed class GainSheetReader
{
    private readonly HashSet<DateTimeOffset> _begun = [];
    private readonly Dictionary<int, ShowInput> _shows = [];
    private readonly Dictionary<Guid, ProposalReply> _proposals = [];
    private readonly List<ConfirmedBody> _confirmed = [];
    private readonly Dictionary<Guid, AlarmReply> _alarms = [];
    private ActAlarms _rates = new(default);
    private (ActBody Body, string Desk)? _act;
    private bool _on;

    private readonly LineReader _journal;
    private int _unread;

    private GainSheetReader(LineReader journal) => _journal = journal;

    /// <summary>The sheet of the act's last appearance; <see langword="null"/> where it never came on.</summary>
    public static GainSheet? Read(LineReader journal, string act)
    {
        var reader = new GainSheetReader(journal);
        string[] kinds = [JournalKinds.Act, JournalKinds.ActEnded, JournalKinds.Show, JournalKinds.Proposal, JournalKinds.Confirmed, JournalKinds.Alarm];
        foreach (var line in journal.ReadAfter(0, kinds))
            reader.Take(line, act);
        return reader._act is { } found ? reader.Sheet(found.Body, found.Desk) : null;
    }

    /// <summary>The names of all acts that came on, the latest first.</summary>
    public static IReadOnlyList<string> Acts(LineReader journal) =>
    [
        .. journal.ReadAfter(0, JournalKinds.Act).Select(line => journal.Read(line, ActLines.NamedAct)?.Act.Name).OfType<string>()
            .Reverse().Distinct(StringComparer.OrdinalIgnoreCase),
    ];

    private void Take(JournalEntry line, string act)
    {
        if (string.Equals(line.Fact.Kind, JournalKinds.Act, StringComparison.Ordinal))
            Begin(line, act);
        else if (IsOfDesk(line))
            TakeOfDesk(line);
    }

    private bool IsOfDesk(JournalEntry line) => _act is { } act && string.Equals(line.Fact.Desk, act.Desk, StringComparison.Ordinal);

    // Everything between an act's coming on and its end, or the next one's coming on, on the same desk is its own.
    private void Begin(JournalEntry line, string act)
    {
        var whole = Read(line, ActLines.Act);
        if ((whole ?? WithoutList(line)) is { } body && string.Equals(body.Act.Name, act, StringComparison.OrdinalIgnoreCase))
        {
            _begun.Add(body.At);
            // A service that fell goes on with the act that was on: what was done before is still of this act.
            if (_on && _act is { } on && IsOfDesk(line))
            {
                // Its list may be a newer one.
                _act = (body with { At = on.Body.At }, on.Desk);
                return;
            }

            (_act, _on) = ((body, line.Fact.Desk ?? ""), true);
            _begun.RemoveWhere(begun => begun != body.At);
            _shows.Clear();
            _proposals.Clear();
            _confirmed.Clear();
            _alarms.Clear();
            _rates = new(body.At);
            _unread = whole is null ? 1 : 0;
        }
        else if (IsOfDesk(line))
        {
            Look(line);
            _on = false;
        }
    }

    // An act whose list cannot be read is told without it.
    private static ActBody? WithoutList(JournalEntry line) =>
        ActLines.NamedAct.Read(line, out _) is { } named ? new ActBody(new Act(named.Act.Name, null, []), named.At ?? line.Fact.AtUtc) : null;

    private void TakeOfDesk(JournalEntry line)
    {
        Look(line);
        switch (line.Fact.Kind)
        {
            case JournalKinds.ActEnded:
                _on = false;
                break;
            case JournalKinds.Show when Read(line, ActLines.Show) is { } show && _begun.Contains(show.BegunAt):
                _shows[show.Line.Input] = show;
                break;
            // A proposal made in the act's time may end after it.
            case JournalKinds.Proposal when Read(line, ReplyLines.Proposal) is { } proposal && (_on || _proposals.ContainsKey(proposal.Id)):
                _proposals[proposal.Id] = proposal;
                break;
            case JournalKinds.Confirmed when ReadConfirmed(line) is { } confirmed:
                Take(confirmed);
                break;
            case JournalKinds.Alarm when Read(line, ReplyLines.Alarm) is { } alarm && (_on || _alarms.ContainsKey(alarm.Id)):
                if (!_alarms.ContainsKey(alarm.Id))
                    _rates.Count(alarm);
                _alarms[alarm.Id] = alarm;
                break;
            default:
                break;
        }
    }

    private void Look(JournalEntry line)
    {
        if (_on && line.Fault is null)
            _rates.Look(line.Fact.AtUtc);
    }

    private T? Read<T>(JournalEntry line, LineForm<T> form)
        where T : class
    {
        var body = _journal.Read(line, form);
        _unread += body is null && _on && IsOfDesk(line) ? 1 : 0;
        return body;
    }

    // Who confirmed, and when, is told also where what was shown cannot be read.
    private ConfirmedBody? ReadConfirmed(JournalEntry line) => Read(line, GateLines.Confirmed)
        ?? (GateLines.ConfirmedAlone.Read(line, out _) is { } alone ? new ConfirmedBody(alone.Proposal, alone.Digest, alone.By, alone.At) : null);

    private void Take(ConfirmedBody confirmed)
    {
        // The proposal's own line may be one that a full disk refused.
        if (_on && confirmed.Shown is { } shown)
            _proposals.TryAdd(shown.Id, shown);
        if (_proposals.ContainsKey(confirmed.Proposal))
            _confirmed.Add(confirmed);
    }

    private GainSheet Sheet(ActBody act, string desk)
    {
        var inputs = act.Act.Inputs.Select(Row).ToList();
        var loud = inputs.Where(row => row.Role == SourceRole.Performer).Select(row => row.LoudestPassageDbfs).OfType<double>().ToList();
        return new GainSheet(
            act.Act.Name, desk, act.At, _shows.Count > 0, FaderSpread.Of(loud) is { } spread ? Math.Round(spread, 1) : null, inputs,
            [.. _confirmed.Select(one => (Confirmed: one, Proposal: _proposals[one.Proposal])).Select(one => new SheetChange(
                one.Confirmed.At, one.Proposal.Input, one.Proposal.Kind, one.Proposal.From, one.Proposal.To, one.Confirmed.By, one.Proposal.State))],
            _rates.ToSheet(), _unread);
    }

    // The show's own words first; without a show, what the check's proposals said.
    private SheetInput Row(ActInput line)
    {
        var show = _shows.GetValueOrDefault(line.Input);
        var check = _proposals.Values.LastOrDefault(one => one.Kind == ProposalKind.Trim && one.Inputs.Contains(line.Input) && one.Evidence.ActiveS is not null);
        var applied = _proposals.Values.LastOrDefault(one => one is { Kind: ProposalKind.Trim, State: ProposalState.Applied } && one.Inputs.Contains(line.Input));
        // Evidence is told at the check's trim; the sheet at the gain of the end.
        var moved = check is { From.Db: { } from } && applied is { To.Db: { } to } ? to - from : 0;
        return new SheetInput(
            line.Input, line.Name, line.Source, line.Role, line.Player,
            ReplyMapping.Level(show?.TrimDb ?? applied?.To.Db ?? check?.From.Db), show?.PadOn, show?.TargetDbfs ?? check?.Evidence.TargetPeakDbfs,
            ReplyMapping.Level(show?.CheckPeakDbfs ?? check?.Evidence.PeakDbfs + moved), ReplyMapping.Level(show?.ShowPeakDbfs), show?.Clipped is true,
            ReplyMapping.Level(show?.LoudestPassageDbfs ?? check?.Evidence.LoudestPassageDbfs + moved),
            ReplyMapping.Level(show?.NoiseFloorDbfs ?? check?.Evidence.NoiseFloorDbfs + moved),
            ReplyMapping.Level(show?.AllowanceDb ?? check?.Evidence.AllowanceDb), show?.AllowanceBasis ?? check?.Evidence.AllowanceBasis,
            [.. _alarms.Values.Where(alarm => alarm.Input == line.Input && alarm.State != AlarmState.Withdrawn)
                .GroupBy(alarm => alarm.Kind).OrderBy(group => group.Key).Select(group => Text(group.Key, group.Count()))],
            line.Note);
    }

    private static string Text(AlarmKind kind, int count)
    {
        var name = JsonNamingPolicy.KebabCaseLower.ConvertName(kind.ToString());
        return count == 1 ? name : $"{name} ×{count}";
    }
}
