using TrimAssist.DemoDesk.Festival;

namespace TrimAssist.Service.Demo;

/// <summary>Runs the demo's day over HTTP: starts and finishes each act's check, and turns the watch on for its show. Confirms nothing.</summary>
internal sealed class StageManager(DemoClient client, TextWriter progress)
{
    private (int Act, FestivalPhase Phase)? _last;
    private Guid? _check;

    /// <summary>Takes note of where the festival stands and does what is due.</summary>
    /// <returns>Whether a new phase has begun.</returns>
    public async Task<bool> FollowAsync(FestivalMoment moment, CancellationToken cancellationToken)
    {
        if (_last == (moment.Act, moment.Phase))
            return false;
        // An input list given at the start is the first act's.
        if (_last is { } last && last.Act != moment.Act)
            await client.EndActAsync(cancellationToken);
        _last = (moment.Act, moment.Phase);
        await progress.WriteLineAsync($"{moment.ActName}: {Text(moment.Phase)}");
        switch (moment.Phase)
        {
            case FestivalPhase.Changeover:
                await client.WatchAsync(false, cancellationToken);
                break;
            case FestivalPhase.Check:
                _check = await client.StartCheckAsync(moment.Inputs, cancellationToken);
                break;
            case FestivalPhase.Ready when _check is { } check:
                var finished = await client.FinishCheckAsync(check, cancellationToken);
                await progress.WriteLineAsync($"  {finished.Proposals.Count} proposals wait for the engineer.");
                _check = null;
                break;
            case FestivalPhase.Show:
                await client.WatchAsync(true, cancellationToken);
                break;
            default:
                break;
        }

        return true;
    }

    private static string Text(FestivalPhase phase) => phase switch
    {
        FestivalPhase.Changeover => "changeover, plugging in",
        FestivalPhase.Check => "sound check, the check listens",
        FestivalPhase.Ready => "check done, time to look at the proposals",
        FestivalPhase.Show => "show, the watch is on",
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "not a phase"),
    };
}
