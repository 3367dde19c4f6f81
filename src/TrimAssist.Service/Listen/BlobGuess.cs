using System.Buffers.Binary;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Listen;

/// <summary>A guess at how a blob holds numbers, found by trying every packing that the profile language has.</summary>
/// <param name="Element">The number type.</param>
/// <param name="IsLittle">Whether the least significant byte comes first.</param>
/// <param name="SkipBytes">Bytes before the first number.</param>
/// <param name="Count">How many numbers there are.</param>
/// <param name="Lowest">The lowest of them.</param>
/// <param name="Highest">The highest of them.</param>
/// <param name="Score">How well they look like levels, 0 to 1.</param>
internal sealed record BlobGuess(MeterElement Element, bool IsLittle, int SkipBytes, int Count, double Lowest, double Highest, double Score)
{
    private const double GoodEnough = 0.5;
    private const double PerHead = 0.1;
    private const double PerSkippedByte = 0.002;
    private static readonly int[] Skips = [0, 2, 4, 6, 8, 12, 16];
    private static readonly (MeterElement Element, int Size)[] Elements = [(MeterElement.Real32, 4), (MeterElement.Whole16, 2), (MeterElement.Whole32, 4)];
    private static readonly bool[] Orders = [false, true];

    /// <summary>The best guess; <see langword="null"/> where nothing looks like levels.</summary>
    public static BlobGuess? Of(IReadOnlyList<byte[]> blobs)
    {
        if (blobs.Count < 2 || blobs.Any(blob => blob.Length != blobs[0].Length))
            return null;
        var tries =
            from element in Elements
            from little in Orders
            from skip in Skips
            where blobs[0].Length > skip && (blobs[0].Length - skip) % element.Size == 0
            select Try(blobs, element.Element, element.Size, little, skip);
        return tries.Where(one => one.Score >= GoodEnough).MaxBy(one => one.Score - (PerSkippedByte * one.SkipBytes));
    }

    private static BlobGuess Try(IReadOnlyList<byte[]> blobs, MeterElement element, int size, bool little, int skip)
    {
        var count = (blobs[0].Length - skip) / size;
        var rows = blobs.Select(blob => Enumerable.Range(0, count).Select(i => Read(blob.AsSpan(skip + (i * size)), element, little)).ToArray()).ToList();
        var all = rows.SelectMany(row => row).ToList();
        var finite = all.Where(double.IsFinite).DefaultIfEmpty(0).ToList();
        var (low, high) = (finite.Min(), finite.Max());
        var score = element == MeterElement.Real32 ? FloatScore(all) : WholeScore(rows, low, high, element);
        return new BlobGuess(element, little, skip, count, low, high, score - HeadPenalty(rows, low));
    }

    // A number at the beginning that never moves and is no level (above 0 dB, or a count) belongs to a header.
    private static double HeadPenalty(List<double[]> rows, double low)
    {
        var heads = 0;
        while (heads < rows[0].Length && rows.TrueForAll(row => row[heads].Equals(rows[0][heads])) && (low < 0 ? rows[0][heads] >= 0 : rows[0][heads] > 0))
            heads++;
        return PerHead * heads;
    }

    // Levels in dBFS or linear: anything else than the right reading of floats gives monsters and dwarfs.
    private static double FloatScore(List<double> values)
    {
        var db = values.Count(value => double.IsNegativeInfinity(value) || value is >= -200 and <= 20 && (value == 0 || Math.Abs(value) > 1e-3));
        var linear = values.Count(value => value == 0 || value is >= 1e-9 and <= 1.5);
        return Math.Max(db, linear) / (double)values.Count;
    }

    // Whole numbers always look like numbers: the right ones move little from frame to frame, and lie on one side of 0.
    private static double WholeScore(List<double[]> rows, double low, double high, MeterElement element)
    {
        var span = high - low;
        if (span <= 0)
            return 0;
        var steps = rows.Zip(rows.Skip(1), (one, next) => one.Zip(next, (a, b) => Math.Abs(a - b)).Average()).Average();
        var smooth = 1 - Math.Min(1, 3 * steps / span);
        var oneSided = low >= 0 || high <= 0.15 * -low;
        var wide = element == MeterElement.Whole32 && Math.Max(Math.Abs(low), Math.Abs(high)) > 1e6 && low < 0;
        return wide ? 0 : (oneSided ? 0.55 : 0.1) + (0.35 * smooth);
    }

    private static double Read(ReadOnlySpan<byte> bytes, MeterElement element, bool little) => element switch
    {
        MeterElement.Real32 => little ? BinaryPrimitives.ReadSingleLittleEndian(bytes) : BinaryPrimitives.ReadSingleBigEndian(bytes),
        MeterElement.Whole16 => little ? BinaryPrimitives.ReadInt16LittleEndian(bytes) : BinaryPrimitives.ReadInt16BigEndian(bytes),
        _ => little ? BinaryPrimitives.ReadInt32LittleEndian(bytes) : BinaryPrimitives.ReadInt32BigEndian(bytes),
    };
}
