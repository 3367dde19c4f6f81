using TrimAssist.Service.Clocks;

namespace TrimAssist.Service.Replay;

/// <summary>
/// Plays a recording: moves the service's clock from packet to packet and hands each desk what was recorded, so that the service hears
/// everything at the time at which it was heard, however fast it is played.
/// </summary>
/// <param name="recording">The recording.</param>
/// <param name="desks">The recorded desks, by id.</param>
/// <param name="clock">The service's clock.</param>
/// <param name="real">The clock on the wall, for the pace.</param>
/// <param name="speed">How many times faster than it was recorded.</param>
internal sealed class ReplayConductor(
    LinkRecording recording, IReadOnlyDictionary<string, ReplaySocket> desks, SteppedTime clock, TimeProvider real, double speed)
{
    /// <summary>Packets this close together are handed over together.</summary>
    private const double TogetherS = 0.001;

    /// <summary>Silence passes in steps no longer than this, as on a real link.</summary>
    private const double StepS = 0.01;

    /// <summary>A recording that is silent for longer than this skips the rest of the silence.</summary>
    private const double LongestSilenceS = 60;

    private readonly long _began = real.GetTimestamp();
    private double _nowS;
    private double _skippedS;

    /// <summary>Packets played so far.</summary>
    public long Played { get; private set; }

    /// <summary>Seconds played so far.</summary>
    public double PlayedS => _nowS;

    /// <summary>Plays to the end.</summary>
    public async Task PlayAsync(CancellationToken cancellationToken)
    {
        var together = new List<RecordedPacket>();
        foreach (var packet in recording.Packets())
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (!desks.ContainsKey(packet.Desk))
                continue;
            if (together.Count > 0 && packet.TimeS - together[0].TimeS > TogetherS)
                await PlayAsync(together, cancellationToken);
            together.Add(packet);
        }

        if (together.Count > 0)
            await PlayAsync(together, cancellationToken);
    }

    private async Task PlayAsync(List<RecordedPacket> together, CancellationToken cancellationToken)
    {
        var due = together[^1].TimeS - _skippedS;
        if (due - _nowS > LongestSilenceS)
        {
            _skippedS += due - _nowS - LongestSilenceS;
            due = together[^1].TimeS - _skippedS;
        }

        while (_nowS < due)
        {
            var step = Math.Min(StepS, due - _nowS);
            _nowS = step < StepS ? due : _nowS + step;
            clock.Advance(TimeSpan.FromSeconds(step));
            if (_nowS < due)
                await Task.WhenAll(desks.Values.Select(desk => desk.PlayAsync([])));
            await KeepPaceAsync(cancellationToken);
        }

        await Task.WhenAll(together.GroupBy(packet => packet.Desk, StringComparer.Ordinal).Select(one => desks[one.Key].PlayAsync([.. one])));
        Played += together.Count;
        together.Clear();
    }

    private async Task KeepPaceAsync(CancellationToken cancellationToken)
    {
        var early = TimeSpan.FromSeconds(_nowS / speed) - real.GetElapsedTime(_began);
        if (early > TimeSpan.FromMilliseconds(5))
            await Task.Delay(early, real, cancellationToken);
    }
}
