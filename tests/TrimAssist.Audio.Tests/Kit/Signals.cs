namespace TrimAssist.Audio.Tests.Kit;

/// <summary>Test signals; levels are peaks in dBFS.</summary>
internal static class Signals
{
    public const int Rate = 48_000;

    public static double[] Sine(double peakDbfs, double seconds, double hertz = 1000, double degrees = 0, int rate = Rate)
    {
        var amplitude = Math.Pow(10, peakDbfs / 20);
        var start = degrees * Math.PI / 180;
        return [.. Enumerable.Range(0, (int)Math.Round(seconds * rate)).Select(n => amplitude * Math.Sin((2 * Math.PI * hertz * n / rate) + start))];
    }

    public static double[] Silence(double seconds, int rate = Rate) => new double[(int)Math.Round(seconds * rate)];

    public static double[] Then(this double[] first, params double[][] more) => [.. first, .. more.SelectMany(part => part)];

    public static double[] Repeated(this double[] part, int times) => [.. Enumerable.Repeat(part, times).SelectMany(p => p)];

    public static double[] Scaled(this double[] samples, double factor) => [.. samples.Select(s => s * factor)];

    /// <summary>Ten milliseconds of fade at both ends, as EBU Tech 3341 asks of its true-peak tones.</summary>
    public static double[] Faded(this double[] samples, int rate = Rate)
    {
        var length = rate / 100;
        return [.. samples.Select((s, n) => s * Math.Min(1, Math.Min(n, samples.Length - 1 - n) / (double)length))];
    }

    /// <summary>White noise between −1 and 1 from a seed.</summary>
    public static double[] Noise(int samples, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, samples).Select(_ => (2 * random.NextDouble()) - 1)];
    }
}
