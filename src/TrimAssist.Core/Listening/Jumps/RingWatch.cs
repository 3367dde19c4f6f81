namespace TrimAssist.Core.Listening.Jumps;

/// <summary>Hears feedback build up: a tone, so peak and RMS lie a sine apart, that grows on a straight line of dB.</summary>
internal sealed class RingWatch(RecentReadings history)
{
    private const double WindowS = 0.6;

    /// <summary>A sine's crest and what little of the music still shows through.</summary>
    private const float TonalCrestDb = 5;

    private const float TonalShare = 0.8f;
    private const float GrowthDbPerS = 6;
    private const float FastestDbPerS = 60;
    private const float LeastGrowthDb = 4;
    private const float StraightDb = 1.5f;
    private const float LeastStepDb = -1;

    /// <summary>A loop that rings adds as much in every frame; a held note that swells does it at once. No frame may bring this share.</summary>
    private const float AtOnceShare = 0.5f;

    /// <summary>In fewer frames one step says nothing about the others.</summary>
    private const int FramesForShare = 10;

    private const float AudibleDbfs = -60;

    /// <summary>Without RMS nothing says that it is one tone, so the line must be longer and straighter.</summary>
    private const float PeakOnlyGrowthDb = 10;
    private const float PeakOnlyStraightDb = 0.3f;

    private readonly int _frames = history.Frames(WindowS);

    /// <summary>Growth in dB over the window that was found.</summary>
    public float GrowthDb { get; private set; }

    /// <summary>Looks at the newest frame; true while a tone grows.</summary>
    public bool Look()
    {
        if (history.Count < _frames || history.Peak(0) < AudibleDbfs || (history.HasRms && history.Crest(0) > TonalCrestDb + 2))
            return false;
        var (tonal, atOnce) = (0, 0f);
        for (var b = 0; b < _frames; b++)
        {
            var step = b > 0 ? history.Rms(b - 1) - history.Rms(b) : 0;
            if (step < LeastStepDb)
                return false;
            atOnce = Math.Max(atOnce, step);
            tonal += history.Crest(b) < TonalCrestDb ? 1 : 0;
        }

        var (slope, off) = StraightLine.Through(history, 0, _frames);
        GrowthDb = (float)(slope * (_frames - 1));
        if (slope / history.FrameS is < GrowthDbPerS or > FastestDbPerS)
            return false;
        if (_frames >= FramesForShare && atOnce > AtOnceShare * GrowthDb)
            return false;
        return history.HasRms
            ? off < StraightDb && GrowthDb >= LeastGrowthDb && tonal >= TonalShare * _frames
            : off < PeakOnlyStraightDb && GrowthDb >= PeakOnlyGrowthDb;
    }
}
