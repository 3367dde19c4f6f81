namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What half a second of readings says about a rise: the measures in dB and seconds that tell a bang from a note.</summary>
internal sealed class AfterRise(RecentReadings h, Hum hum)
{
    /// <summary>How long a rise is watched before its name stands.</summary>
    public const double WatchS = 0.5;

    /// <summary>The top may follow the rise by this much: a bang at a frame's end, a contact that bounces.</summary>
    private const double TopWithinS = 0.1;

    /// <summary>Nothing that sounds through the air is back at a rest far below within this.</summary>
    private const double GoneAfterS = 0.1;

    /// <summary>Slower falls are a room's or a string's, not a capacitor's.</summary>
    private const double FallDbPerS = 60;

    /// <summary>Hum must stand this far above the rest before to count.</summary>
    private const float OverRestDb = 6;

    /// <summary>A converter's noise: below it a fall says nothing any more.</summary>
    private const float NoiseDbfs = -95;

    /// <summary>Where a run of frames comes to rest, and where a thump's swing begins.</summary>
    private const double EndS = 0.2;

    private const double TailAfterS = 0.15;

    /// <summary>Two or three frames may stand alike by chance.</summary>
    private const int LeastForSpread = 4;

    private const float Unknown = 1;

    /// <summary>A rise's shape is its level at so many steps after its top, and this far apart.</summary>
    private const int Steps = 5;

    private const double StepS = 0.05;

    private readonly int _half = h.Frames(WatchS);
    private readonly int _topWithin = h.Frames(TopWithinS);
    private readonly int _goneAfter = h.Frames(GoneAfterS);
    private readonly int _longBefore = h.Frames(3);
    private readonly int _justBefore = h.Frames(0.3);
    private readonly int _fallWithin = h.Frames(0.3);
    private readonly int _tailAfter = h.Frames(TailAfterS);
    private readonly int _end = h.Frames(EndS);
    private readonly int _justAfter = h.Frames(0.05);
    private readonly float _fallDb = (float)(FallDbPerS * h.FrameS);
    private readonly int[] _steps = [.. Enumerable.Range(1, Steps).Select(step => (int)Math.Round(step * StepS / h.FrameS))];

    public float Top { get; private set; }

    public float Rest { get; private set; }

    /// <summary>Standard deviation of peak and of RMS in the half second before.</summary>
    public float RestSpread { get; private set; }

    public float RestRmsSpread { get; private set; }

    public float Lowest { get; private set; }

    public float LowestBefore { get; private set; }

    /// <summary>dB fallen in one straight run, and the mean crest along it: a discharging capacitor is a straight line of low crest.</summary>
    public float Fall { get; private set; }

    public float FallCrest { get; private set; }

    /// <summary>How exactly the steadiest stretch repeats itself after a tenth of a second (see <see cref="Hum"/>), after the rise and before it.</summary>
    public float HumAfter { get; private set; }

    public float HumBefore { get; private set; }

    /// <summary>Mean crest, slope (dB/s, positive falls) and straightness of the tail: a thump is a slow swing of very low crest.</summary>
    public float TailCrest { get; private set; }

    public float TailFall { get; private set; }

    public float TailRoughness { get; private set; }

    public float LowestCrest { get; private set; }

    /// <summary>Peak a tenth of a second after the top, over the rest before.</summary>
    public float SoonOverRestDb { get; private set; }

    public float LateDb { get; private set; }

    public float UpsDb { get; private set; }

    /// <summary>Mean level and spread of the last 0.2 s, and its crest: where the input came to rest.</summary>
    public float End { get; private set; }

    public float EndSpread { get; private set; }

    public float EndRmsSpread { get; private set; }

    public float EndCrest { get; private set; }

    public float RestCrest { get; private set; }

    /// <summary>
    /// Measures the rise that began <paramref name="age"/> frames ago; fills <paramref name="shape"/> for the habit. Where hum is not asked for
    /// by <paramref name="faintHum"/>, what is too faint to be evidence is not measured any further.
    /// </summary>
    public void Measure(int age, bool faintHum, Span<float> shape)
    {
        var before = age + 1;
        var top = age;
        for (var b = age; b >= Math.Max(0, age - _topWithin); b--)
        {
            if (h.Peak(b) > h.Peak(top))
                top = b;
        }

        Top = h.Peak(top);
        Rest = h.Median(before, _half);
        RestSpread = h.Spread(before, _half);
        RestRmsSpread = h.RmsSpread(before, _half);
        Lowest = h.Lowest(0, top + 1);
        LowestBefore = h.Lowest(before, _longBefore);
        LateDb = Top - h.Peak(age);
        HumAfter = hum.Repeats(0, age, Rest + OverRestDb, faintHum ? Hum.Unheard : PopEvidence.HumAfterDb);
        HumBefore = hum.Repeats(before + 1, h.Held(before + 1, _half), RecentReadings.Silence, faintHum ? Hum.Unheard : PopEvidence.HumBeforeDb);
        SoonOverRestDb = h.Peak(Math.Max(0, top - _goneAfter)) - Rest;
        MeasureTop(top);
        MeasureFall(top);
        MeasureTail(top);
        MeasureEnds(before);
        Describe(age, top, shape);
    }

    /// <summary>Energy of the half second against its loudest frame, as if that had lasted 50 ms: how much more than one bang there was.</summary>
    public float LengthDb(int age)
    {
        var (sum, loudest) = (0.0, double.Epsilon);
        for (var b = age; b >= 0; b--)
        {
            var energy = Math.Pow(10, h.Rms(b) / 10);
            (sum, loudest) = (sum + energy, Math.Max(loudest, energy));
        }

        return (float)(10 * Math.Log10(sum * h.FrameS / (loudest * 0.05)));
    }

    private void MeasureTop(int top)
    {
        (LowestCrest, UpsDb) = (12, 0);
        for (var b = top - 1; b >= 0; b--)
        {
            UpsDb += float.MaxNative(0, h.Peak(b) - h.Peak(b + 1));
            LowestCrest = float.MinNative(LowestCrest, h.Crest(b));
        }
    }

    private void MeasureFall(int top)
    {
        (Fall, FallCrest) = (0, 10);
        for (var s = top; s > Math.Max(0, top - _fallWithin - 1); s--)
        {
            var (b, crest, frames) = (s, 0f, 0);
            while (b > 0 && h.Rms(b) - h.Rms(b - 1) >= _fallDb && h.Rms(b - 1) > NoiseDbfs)
            {
                b--;
                crest += h.Crest(b);
                frames++;
            }

            if (frames > 0 && h.Rms(s) - h.Rms(b) > Fall)
                (Fall, FallCrest) = (h.Rms(s) - h.Rms(b), crest / frames);
        }
    }

    private void MeasureTail(int top)
    {
        var oldest = top - _tailAfter;
        (TailCrest, TailFall, TailRoughness) = (10, 0, 3);
        if (oldest < 2)
            return;
        var line = StraightLine.Through(h, 0, oldest + 1);
        TailCrest = 0;
        for (var b = oldest; b >= 0; b--)
            TailCrest += h.Crest(b) / (oldest + 1);
        (TailFall, TailRoughness) = ((float)(-line.SlopeDb / h.FrameS), (float)line.OffDb);
    }

    private void MeasureEnds(int before)
    {
        (End, EndCrest, RestCrest) = (0, 0, 0);
        (EndSpread, EndRmsSpread) = (h.Spread(0, _end), _end < LeastForSpread ? Unknown : h.RmsSpread(0, _end));
        for (var b = 0; b < _end; b++)
        {
            End += h.Peak(b) / _end;
            EndCrest += h.Crest(b) / _end;
            RestCrest += h.Crest(before + b) / _end;
        }
    }

    private void Describe(int age, int top, Span<float> shape)
    {
        shape[0] = Math.Min(h.Peak(age) - h.Highest(age + 1, _justBefore), 40) / 2;
        for (var step = 0; step < Steps; step++)
            shape[step + 1] = Math.Max(-40, h.Peak(Math.Max(0, top - _steps[step])) - h.Peak(top));
        shape[6] = h.Crest(age) / 2;
        shape[7] = h.Crest(Math.Max(0, age - _justAfter));
    }
}
