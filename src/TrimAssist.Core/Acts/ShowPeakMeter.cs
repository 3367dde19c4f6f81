namespace TrimAssist.Core.Acts;

/// <summary>
/// Follows one input's highest peak through a show, as it would read without any gain, bangs left out. A frame counts only
/// when it is a second old, so that a bang that is understood late can still be cut out. Allocates nothing after construction.
/// </summary>
public sealed class ShowPeakMeter
{
    private const double SettleS = 1;
    private const int Room = 256;

    // A converter that reads this close to full scale may have clipped.
    private const double FullMarginDb = 0.1;

    /// <summary>So far under the loudest somebody still plays; tails, spill and noise mostly lie lower. Common practice.</summary>
    private const double PlayingWithinDb = 20;

    private readonly (double TimeS, double LevelDb, bool Full)[] _waiting = new (double, double, bool)[Room];
    private long _first;
    private long _next;

    /// <summary>The highest peak so far, dB over full scale at no gain; <see langword="null"/> before anything was heard.</summary>
    public double? PeakDb { get; private set; }

    /// <summary>Whether the converter was full at that peak: it was at least so loud.</summary>
    public bool Full { get; private set; }

    /// <summary>When it was last nearly as loud as at its loudest so far: who is silent since then plays no more.</summary>
    public double? PlayedUntilS { get; private set; }

    /// <summary>Takes in a frame.</summary>
    /// <param name="timeS">The end of the frame.</param>
    /// <param name="peakDbfs">Its peak.</param>
    /// <param name="gainDb">The gain before the meter.</param>
    /// <param name="fullScaleDbfs">Full scale at the meter.</param>
    public void Observe(double timeS, double peakDbfs, double gainDb, double fullScaleDbfs)
    {
        while (_first < _next && (_next - _first == Room || timeS - _waiting[_first % Room].TimeS >= SettleS))
            Settle();
        if (double.IsFinite(peakDbfs))
            _waiting[_next++ % Room] = (timeS, peakDbfs - gainDb, peakDbfs >= fullScaleDbfs - FullMarginDb);
    }

    /// <summary>Leaves a stretch out.</summary>
    public void CutOut(double fromS, double untilS)
    {
        for (var index = _first; index < _next; index++)
        {
            ref var frame = ref _waiting[index % Room];
            if (frame.TimeS >= fromS && frame.TimeS <= untilS)
                frame = (frame.TimeS, double.NegativeInfinity, false);
        }
    }

    /// <summary>The show is over: what still waits counts.</summary>
    public void End()
    {
        while (_first < _next)
            Settle();
    }

    private void Settle()
    {
        var (timeS, level, full) = _waiting[_first++ % Room];
        if (!double.IsFinite(level))
            return;
        if (!(level <= PeakDb))
            (PeakDb, Full) = (level, full);
        if (level >= PeakDb - PlayingWithinDb)
            PlayedUntilS = timeS;
    }
}
