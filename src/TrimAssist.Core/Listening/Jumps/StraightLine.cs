namespace TrimAssist.Core.Listening.Jumps;

/// <summary>The straight line of least squares through a run of RMS readings, oldest to newest.</summary>
/// <param name="SlopeDb">Its slope in dB a frame; positive where the level grows.</param>
/// <param name="OffDb">Root mean square distance of the readings from it, in dB.</param>
internal readonly record struct StraightLine(double SlopeDb, double OffDb)
{
    /// <summary>Draws the line through <paramref name="frames"/> frames, two or more, the newest of them <paramref name="newest"/> frames ago.</summary>
    public static StraightLine Through(RecentReadings h, int newest, int frames)
    {
        var (sum, moment, squares, middle) = (0.0, 0.0, 0.0, (frames - 1) / 2.0);
        for (var b = 0; b < frames; b++)
        {
            double level = h.Rms(newest + b);
            sum += level;
            moment += (middle - b) * level;
            squares += level * level;
        }

        var spread = (((double)frames * frames * frames) - frames) / 12;
        var slope = moment / spread;
        var mean = sum / frames;
        return new(slope, Math.Sqrt(Math.Max(0, (squares / frames) - (mean * mean) - (slope * slope * spread / frames))));
    }
}
