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
    public StageAdvice? Of(InputSettings settings) => Judge(settings) is { } advice && !(ears.InShow && advice.ByDb > 0) ? advice : null;

    private StageAdvice? Judge(InputSettings settings)
    {
        var input = settings.Input;
        if (ears.Recent(input) is not { } report)
            return null;
        var chain = acts.ChainOf(input);
        if (_last.TryGetValue(input, out var last) && ReferenceEquals(last.Report, report) && ReferenceEquals(last.Chain, chain) && last.Settings == settings)
            return last.Advice;
        var advice = StageAdviser.Of(new(desk, settings, report, ears.Stretches(input), acts.TargetOf(input), chain));
        _last[input] = new(report, settings, chain, advice);
        return advice;
    }

    private sealed record Judged(InputReport Report, InputSettings Settings, SignalChain? Chain, StageAdvice? Advice);
}
