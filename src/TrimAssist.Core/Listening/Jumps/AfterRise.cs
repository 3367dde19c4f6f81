namespace TrimAssist.Core.Listening.Jumps;

/// <summary>What half a second of readings says about a rise: the measures in dB and seconds that tell a bang from a note.</summary>
internal sealed class AfterRise
{
    /// <summary>How long a rise is watched before its name stands.</summary>
    public const double WatchS = 0.5;

    /// <summary>The top may follow the rise by this much: a bang at a frame's end, a contact that bounces.</summary>
    private const double TopWithinS = 0.1;

    /// <summary>Slower falls are a room's or a string's, not a capacitor's.</summary>
    private const double FallDbPerS = 60;

    /// <summary>Hum must stand this far above the rest before to count.</summary>
    private const float OverRestDb = 8;

    /// <summary>A converter's noise: below it a fall says nothing any more.</summary>
    private const float NoiseDbfs = -95;

    public float Top { get; private set; }

    public float Rest { get; private set; }

    public float RestSpread { get; private set; }

    public float Lowest { get; private set; }

    public float LowestBefore { get; private set; }

    /// <summary>dB fallen in one straight run, and the mean crest along it: a discharging capacitor is a straight line of low crest.</summary>
    public float Fall { get; private set; }

    public float FallCrest { get; private set; }

    /// <summary>Spread of peak and RMS in the steadiest 0.2 s: hum stands still as no player can.</summary>
    public float Stillness { get; private set; }

    /// <summary>Mean crest, slope (dB/s, positive falls) and least fall of the tail: a thump is a slow swing of very low crest.</summary>
    public float TailCrest { get; private set; }

    public float TailFall { get; private set; }

    public float TailLeastFall { get; private set; }

    public float LowestCrest { get; private set; }

    public float LateDb { get; private set; }

    public float UpsDb { get; private set; }

    public float FirstCrest { get; private set; }

    /// <summary>Mean level and spread of the last 0.2 s, and its crest: where the input came to rest.</summary>
    public float End { get; private set; }

    public float EndSpread { get; private set; }

    public float EndCrest { get; private set; }

    public float RestCrest { get; private set; }

    /// <summary>Measures the rise that began <paramref name="age"/> frames ago; fills <paramref name="shape"/> for the habit.</summary>
    public void Measure(LevelHistory h, int age, Span<float> shape)
    {
        var before = age + 1;
        var half = h.Frames(WatchS);
        var top = age;
        for (var b = age; b >= Math.Max(0, age - h.Frames(TopWithinS)); b--)
        {
            if (h.Peak(b) > h.Peak(top))
                top = b;
        }

        Top = h.Peak(top);
        Rest = h.Median(before, half);
        RestSpread = h.Spread(before, half);
        Lowest = h.Lowest(0, top + 1);
        LowestBefore = h.Lowest(before, h.Frames(3));
        FirstCrest = h.Crest(age);
        (LowestCrest, UpsDb) = (12, 0);
        LateDb = Top - h.Peak(age);
        for (var b = top - 1; b >= 0; b--)
        {
            UpsDb += Math.Max(0, h.Peak(b) - h.Peak(b + 1));
            LowestCrest = Math.Min(LowestCrest, h.Crest(b));
        }

        MeasureFall(h, top);
        MeasureStillness(h, age);
        MeasureTail(h, top);
        var fifth = h.Frames(0.2);
        (End, EndCrest, RestCrest) = (0, 0, 0);
        EndSpread = h.Spread(0, fifth);
        for (var b = 0; b < fifth; b++)
        {
            End += h.Peak(b) / fifth;
            EndCrest += h.Crest(b) / fifth;
            RestCrest += h.Crest(before + b) / fifth;
        }

        Describe(h, age, top, shape);
    }

    private void MeasureFall(LevelHistory h, int top)
    {
        var step = (float)(FallDbPerS * h.FrameS);
        (Fall, FallCrest) = (0, 10);
        for (var s = top; s > Math.Max(0, top - h.Frames(0.3) - 1); s--)
        {
            var (b, crest, frames) = (s, 0f, 0);
            while (b > 0 && h.Rms(b) - h.Rms(b - 1) >= step && h.Rms(b - 1) > NoiseDbfs)
            {
                b--;
                crest += h.Crest(b);
                frames++;
            }

            if (frames > 0 && h.Rms(s) - h.Rms(b) > Fall)
                (Fall, FallCrest) = (h.Rms(s) - h.Rms(b), crest / frames);
        }
    }

    private void MeasureStillness(LevelHistory h, int age)
    {
        var frames = h.Frames(0.2) + 1;
        Stillness = 9;
        for (var newest = age - frames; newest >= 0; newest--)
        {
            if (h.Lowest(newest, frames) < Rest + OverRestDb)
                continue;
            Stillness = Math.Min(Stillness, h.Spread(newest, frames) + h.RmsSpread(newest, frames));
        }
    }

    private void MeasureTail(LevelHistory h, int top)
    {
        var oldest = top - h.Frames(0.15);
        (TailCrest, TailFall, TailLeastFall) = (10, 0, -50);
        if (oldest < 2)
            return;
        (TailCrest, TailLeastFall) = (0, 999);
        for (var b = oldest; b >= 0; b--)
        {
            TailCrest += h.Crest(b) / (oldest + 1);
            if (b < oldest)
                TailLeastFall = Math.Min(TailLeastFall, (float)((h.Rms(b + 1) - h.Rms(b)) / h.FrameS));
        }

        TailFall = (float)((h.Rms(oldest) - h.Rms(0)) / (oldest * h.FrameS));
    }

    private void Describe(LevelHistory h, int age, int top, Span<float> shape)
    {
        shape[0] = Math.Min(h.Peak(age) - h.Highest(age + 1, h.Frames(0.3)), 40) / 2;
        for (var k = 1; k <= 5; k++)
            shape[k] = Math.Max(-40, h.Peak(Math.Max(0, top - (int)Math.Round(k * 0.05 / h.FrameS))) - Top);
        shape[6] = FirstCrest / 2;
        shape[7] = h.Crest(Math.Max(0, age - h.Frames(0.05)));
    }
}
