namespace TrimAssist.DemoDesk.Band;

/// <summary>What one frame of a source carries, at the plug.</summary>
/// <param name="PeakDbu">Peak.</param>
/// <param name="RmsDbu">RMS after AES17.</param>
internal readonly record struct SourceFrame(double PeakDbu, double RmsDbu)
{
    /// <summary>A level that nothing hears.</summary>
    public const double SilentDbu = -140;

    /// <summary>Nothing at all.</summary>
    public static SourceFrame Silence { get; } = new(SilentDbu, SilentDbu);

    /// <summary>The bang in this frame; <see langword="null"/> where there is none.</summary>
    public Bang? Bang { get; init; }
}

/// <summary>A bang that dies away exponentially within the frame.</summary>
/// <param name="PeakDbu">Its first and highest instant.</param>
/// <param name="DecayS">In this time it falls by 8.7 dB (to 1/e).</param>
internal readonly record struct Bang(double PeakDbu, double DecayS)
{
    /// <summary>
    /// Its level over a frame behind a stage that clips, RMS after AES17 (a full-scale sine reads 0). However hard it clips, a
    /// bang of milliseconds holds little energy.
    /// </summary>
    /// <param name="gainDb">Gain before the clipping.</param>
    /// <param name="ceiling">Where the stage clips.</param>
    /// <param name="frameS">Length of the frame.</param>
    public (double Peak, double Rms) Through(double gainDb, double ceiling, double frameS)
    {
        var over = Math.Max(0, PeakDbu + gainDb - ceiling);
        var peak = Math.Min(PeakDbu + gainDb, ceiling);
        // While it clips its power is that of the ceiling; then half the square of a decaying envelope, integrated.
        var clippedS = Math.Min(frameS, DecayS * over * Math.Log(10) / 20);
        var meanSquare = (clippedS + (DecayS / 4)) / frameS;
        return (peak, Math.Min(peak, peak + (10 * Math.Log10(2 * meanSquare))));
    }
}
