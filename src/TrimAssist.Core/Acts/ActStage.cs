using TrimAssist.Core.Chain;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;
using TrimAssist.Core.Listening.Levels;
using TrimAssist.Core.Time;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;

namespace TrimAssist.Core.Acts;

/// <summary>The running order of one desk and the act that is on: what its list says about an input, and what its check and show said. One owner: the desk's loop.</summary>
/// <param name="desk">The desk.</param>
/// <param name="target">Where a show's peak should land unless a list says otherwise.</param>
/// <param name="learned">What to add for a player of a kind of source; asked with the act's name and the line.</param>
public sealed class ActStage(DeskDescription desk, Dbfs target, Func<string, ActInput, Allowance> learned)
{
    /// <summary>How many acts a running order holds.</summary>
    public const int Bound = 100;

    /// <summary>A show this far under its check was not played on that input: it teaches nothing. Common practice.</summary>
    private const double NotPlayedDb = -12;

    /// <summary>What is not held back strays less: common practice.</summary>
    private const double SteadySpreadDb = 1.5;

    private readonly List<Act> _order = [];
    private readonly Dictionary<int, Checked> _checked = [];
    private readonly Dictionary<(string Act, int Input), SignalChain> _chains = [];

    /// <summary>The acts in running order.</summary>
    public IReadOnlyList<Act> Order => _order;

    /// <summary>The act that is on; <see langword="null"/> while none is.</summary>
    public Act? Current { get; private set; }

    /// <summary>When it came on.</summary>
    public Moment BegunAt { get; private set; }

    /// <summary>Whether the running order can take an act.</summary>
    public bool HasRoomFor(Act act) => _order.Count < Bound || Find(act.Name) is not null;

    /// <summary>Puts an act into the running order: by its start where both have one, else last. One of the same name gives way to it in its place.</summary>
    /// <returns>Whether there was room.</returns>
    public bool Add(Act act)
    {
        if (!HasRoomFor(act))
            return false;
        var index = _order.FindIndex(other => IsSameName(other.Name, act.Name));
        if (index >= 0)
            _order[index] = act;
        else if (act.StartsAt is { } starts && _order.FindIndex(other => other.StartsAt > starts) is var later and >= 0)
            _order.Insert(later, act);
        else
            _order.Add(act);
        if (Current is { } on && IsSameName(on.Name, act.Name))
            Current = act;
        return true;
    }

    /// <summary>The act of this name; <see langword="null"/> where there is none.</summary>
    public Act? Find(string name) => _order.Find(act => IsSameName(act.Name, name));

    /// <summary>An act comes on. What was checked for the act before is forgotten.</summary>
    public void Begin(Act act, Moment now)
    {
        (Current, BegunAt) = (act, now);
        _checked.Clear();
    }

    /// <summary>The act goes off; none is on.</summary>
    public void End()
    {
        Current = null;
        _checked.Clear();
    }

    /// <summary>The act's line for an input; <see langword="null"/> where no act is on or it does not use the input.</summary>
    public ActInput? Line(int input) => Current?.Inputs.FirstOrDefault(line => line.Input == input);

    /// <summary>Tells the chain before an input, for an act, in the running order yet or not, or for the desk whatever act is on.</summary>
    /// <param name="act">The act's name; <see langword="null"/> for the desk.</param>
    /// <param name="input">The input.</param>
    /// <param name="chain">The chain; <see langword="null"/> to forget it.</param>
    public void Carry(string? act, int input, SignalChain? chain)
    {
        if (chain is null)
            _chains.Remove(KeyOf(act, input));
        else
            _chains[KeyOf(act, input)] = chain;
    }

    /// <summary>The chain before an input: the act's that is on, else the desk's; <see langword="null"/> where nobody told it.</summary>
    public SignalChain? ChainOf(int input) => ChainOf(input, Current?.Name);

    /// <summary>The chain before an input in an act: the act's own, else the desk's; <see langword="null"/> where nobody told it.</summary>
    public SignalChain? ChainOf(int input, string? act) =>
        act is not null && _chains.TryGetValue(KeyOf(act, input), out var own) ? own : _chains.GetValueOrDefault(KeyOf(null, input));

    /// <summary>What a report of an input is to aim for.</summary>
    public ReportOptions OptionsOf(int input)
    {
        var allowance = AllowanceOf(input);
        return new ReportOptions
        {
            Target = TargetOf(input),
            Allowance = new Decibels(allowance.Db),
            AllowanceSpreadDb = allowance.SpreadDb,
            AllowanceLearned = allowance.Learned,
        };
    }

    /// <summary>Where an input's show should peak.</summary>
    public Dbfs TargetOf(int input) => Line(input)?.Target ?? target;

    /// <summary>What to add for what is held back on an input, and why so much.</summary>
    public Allowance AllowanceOf(int input)
    {
        var line = Line(input) ?? new ActInput(input, null, null, SourceRole.Performer, null, null, null, null, null);
        if (!RoleRules.HoldsBack(line.Role))
            return new Allowance(0, SteadySpreadDb, false, AllowanceSayings.BasisNone(Text(line.Role)));
        var known = learned(Current?.Name ?? "", line);
        return line.AllowanceDb is { } listed ? known with { Db = listed, Basis = AllowanceSayings.BasisList(listed) } : known;
    }

    /// <summary>Why no trim is proposed for an input, as a sentence; <see langword="null"/> where one may be.</summary>
    public Saying? WhyNoTrim(int input) => Line(input) is { } line && !RoleRules.GetsTrim(line.Role) ? CheckSayings.CheckNoTrim(Text(line.Role)) : null;

    /// <summary>Whether somebody plays or sings here: by the list of the act that is on, else wherever something is heard.</summary>
    public bool PlaysLive(int input) => Current is null || Line(input)?.Role == SourceRole.Performer;

    /// <summary>Keeps what a check said about an input, for the show to be held against.</summary>
    public void Keep(InputReport report, InputSettings settings)
    {
        if (report.Prediction is { } prediction && desk.GainDb(settings) is { } gain)
            _checked[report.Input] = new Checked(report, prediction, gain, AllowanceOf(report.Input).Basis);
    }

    /// <summary>What became of an input of the act that is on.</summary>
    /// <param name="settings">What the desk last said about the input.</param>
    /// <param name="show">Its show.</param>
    public ShowInput? Result(InputSettings settings, ShowPeakMeter show)
    {
        if (Current is not { } act || Line(settings.Input) is not { } line)
            return null;
        var gain = desk.GainDb(settings);
        var check = _checked.GetValueOrDefault(settings.Input);
        var allowance = AllowanceOf(settings.Input);
        // What the check heard is told as it would read at the gain of the end.
        double? Now(double? level) => level + gain - check?.GainDb;
        double? above = check is { Prediction.LowerBoundOnly: false } && show.PeakDb is { } peak
            ? peak - (check.Prediction.Middle.Value - check.Prediction.AllowanceDb - check.GainDb)
            : null;
        return new ShowInput(
            desk.Id, act.Name, BegunAt.Utc, line, settings.Trim?.Value, settings.PadOn, TargetOf(settings.Input).Value,
            Now(check?.Report.Peak?.Value), Now(check?.Report.NoiseFloor?.Value), Now(check?.Report.Loudest?.Level.Value),
            Now(check?.Prediction.Middle.Value), show.PeakDb + gain, show.Full, check?.Prediction.AllowanceDb ?? allowance.Db, check?.AllowanceBasis ?? allowance.Basis,
            above >= NotPlayedDb ? above : null);
    }

    private static (string Act, int Input) KeyOf(string? act, int input) => (act?.ToUpperInvariant() ?? "", input);

    /// <summary>Whether two names mean the same act.</summary>
    public static bool IsSameName(string left, string right) => string.Equals(left, right, StringComparison.OrdinalIgnoreCase);

    private static Saying Text(SourceRole role) => role switch
    {
        SourceRole.Audience => AllowanceSayings.RoleAudience,
        SourceRole.Spare => AllowanceSayings.RoleSpare,
        _ => Saying.Plain(role.ToString().ToLowerInvariant()),
    };

    private sealed record Checked(InputReport Report, ShowPrediction Prediction, double GainDb, Saying AllowanceBasis);
}
