using TrimAssist.Core.Acts;
using TrimAssist.Core.Advice;
using TrimAssist.Core.Chain;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Listening;

namespace TrimAssist.Core.Assist;

/// <summary>Has the chains of a desk's inputs judged by what is heard, each again only when something has changed.</summary>
internal sealed class AdviceDesk(DeskDescription desk, ActStage acts, Ears ears)
{
    private readonly Dictionary<int, Judged> _last = [];

    /// <summary>The advice about an input; <see langword="null"/> where there is none. During the show nothing is told to be turned up.</summary>
    /// <param name="settings">What the desk last said about it.</param>
    /// <param name="now">The present, by the clock that nobody sets.</param>
    public StageAdvice? Of(InputSettings settings, TimeSpan now) => Judge(settings, now) is { } advice && !(ears.InShow && advice.ByDb > 0) ? advice : null;

    private StageAdvice? Judge(InputSettings settings, TimeSpan now)
    {
        var input = settings.Input;
        if (ears.Recent(input) is not { } report)
            return null;
        var chain = acts.ChainOf(input);
        var last = _last.GetValueOrDefault(input);
        var judged = last is not null && ReferenceEquals(last.Report, report) && ReferenceEquals(last.Chain, chain) && last.Settings == settings
            ? last.Advice
            : StageAdviser.Of(new(desk, settings, report, ears.Stretches(input), acts.TargetOf(input), chain));
        // Advice that was followed must not stand: whoever reads it would turn twice.
        var standing = last is not null && ReferenceEquals(last.Chain, chain) && (last.Settings.Trim, last.Settings.PadOn) == (settings.Trim, settings.PadOn)
            ? last.Standing.After(judged, now)
            : StandingAdvice.From(judged, now);
        _last[input] = new(report, settings, chain, judged, standing);
        return standing.Advice;
    }

    private sealed record Judged(InputReport Report, InputSettings Settings, SignalChain? Chain, StageAdvice? Advice, StandingAdvice Standing);
}
