using TrimAssist.Core.Acts;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Time;

namespace TrimAssist.Core.Assist;

/// <summary>Tells what the show of the act that is on was like: every minute while it is watched, and whole when it is over.</summary>
internal sealed class ShowTeller(ActStage acts, Ears ears, Func<int, InputSettings> settings, IAssistantEvents events)
{
    /// <summary>How often a show is told while it goes on: a service that falls has told all but its last minute.</summary>
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    /// <summary>When no performer has played for so long, the show is over though nobody turned the watch off: longer than between two pieces. Common practice.</summary>
    private const double OverAfterS = 60;

    private readonly Dictionary<int, ShowInput> _told = [];
    private TimeSpan _toldAt;

    /// <summary>The watch begins.</summary>
    public void Begin(Moment now) => _toldAt = now.Elapsed;

    /// <summary>While it is watched: tells what is new when it is time.</summary>
    public void Tick(Moment now)
    {
        if (now.Elapsed - _toldAt >= Every)
            SoFar(now, ears.ShowSoFar);
    }

    /// <summary>The show is over.</summary>
    public void Over()
    {
        if (Results(ears.Show) is { Count: > 0 } heard)
            events.ShowHeard(heard, isOver: true);
    }

    /// <summary>The service stops in the middle of the watch. Where somebody still played, the show may go on unheard.</summary>
    public void Leave(Moment now)
    {
        var performers = acts.Current?.Inputs.Where(line => RoleRules.Teaches(line.Role)).ToList() ?? [];
        // A line that nobody plays has noise at its own height all the time: once a check tells them apart, only those that played count.
        var playing = performers.FindAll(line => acts.Result(settings(line.Input), ears.Show(line.Input)) is { Teaches: not null });
        if ((playing.Count > 0 ? playing : performers).Max(line => ears.Show(line.Input).PlayedUntilS) is { } until && ears.NewestS - until >= OverAfterS)
            Over();
        else
            SoFar(now, ears.Show);
    }

    private void SoFar(Moment now, Func<int, ShowPeakMeter> show)
    {
        _toldAt = now.Elapsed;
        var news = Results(show).ConvertAll(one => one with { SoFar = true }).FindAll(one => _told.GetValueOrDefault(one.Line.Input) != one);
        foreach (var one in news)
            _told[one.Line.Input] = one;
        if (news.Count > 0)
            events.ShowHeard(news, isOver: false);
    }

    private List<ShowInput> Results(Func<int, ShowPeakMeter> show) => acts.Current is { } act
        ? [.. act.Inputs.Select(line => acts.Result(settings(line.Input), show(line.Input))).OfType<ShowInput>()]
        : [];
}
