using TrimAssist.Desk.Profiles;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Service.Listen;

/// <summary>One source of levels, as it looks from outside.</summary>
/// <param name="Address">The address, with a place for the input where it names one.</param>
/// <param name="Argument">The argument that holds the level, the blob, or the first of the levels.</param>
/// <param name="Packing">How a message carries its levels.</param>
/// <param name="Blob">How the blob is packed; <see langword="null"/> where there is none.</param>
/// <param name="Scale">What the numbers seem to be.</param>
/// <param name="Inputs">The highest input seen.</param>
/// <param name="FrameMs">The time between two messages.</param>
internal sealed record MeterGuess(string Address, int Argument, MeterPacking Packing, BlobGuess? Blob, ScaleGuess Scale, int Inputs, double FrameMs)
{
    /// <summary>Levels come at least this often.</summary>
    private const double SlowestPerS = 4;

    /// <summary>So many numbers in one message are a list of levels, an input each.</summary>
    private const int ListFrom = 3;

    /// <summary>Everything that looks like levels in a family.</summary>
    public static IEnumerable<MeterGuess> In(AddressGroup family)
    {
        if (family.PerSecond is not { } rate || rate < SlowestPerS)
            return [];
        var frame = Math.Clamp(Math.Round(1000 / rate), 1, 10_000);
        if (family.NamesInput)
            return Singles(family, frame);
        return family.Types.Contains((char)OscTypeTag.Blob, StringComparison.Ordinal) ? InBlob(family, frame) : InList(family, frame);
    }

    private static IEnumerable<MeterGuess> Singles(AddressGroup family, double frame)
    {
        for (var argument = 0; argument < Math.Min(4, family.Members[0].Arguments.Count); argument++)
        {
            var tallies = family.Members.Select(member => member.Arguments[argument]).Where(one => one.Numbers > 0).ToList();
            if (tallies.Count > 0 && !tallies.TrueForAll(one => one.IsCounter) && family.RangeOf(argument) is var (low, high)
                && ScaleGuess.Of(low, high, IsWhole(tallies[0].Tag)) is { } scale)
            {
                yield return new(family.Template, argument, MeterPacking.OneInput, null, scale, family.Inputs[^1], frame);
            }
        }
    }

    private static IEnumerable<MeterGuess> InBlob(AddressGroup family, double frame)
    {
        var tally = family.Members[0];
        if (BlobGuess.Of(tally.Blobs) is { } blob && ScaleGuess.Of(blob.Lowest, blob.Highest, blob.Element != MeterElement.Real32, blob.Element) is { } scale)
            yield return new(family.Template, tally.Types.IndexOf((char)OscTypeTag.Blob, StringComparison.Ordinal), MeterPacking.Blob, blob, scale, blob.Count, frame);
    }

    private static IEnumerable<MeterGuess> InList(AddressGroup family, double frame)
    {
        var arguments = family.Members[0].Arguments;
        var first = 0;
        while (first < arguments.Count && (arguments[first].Numbers == 0 || arguments[first].IsCounter))
            first++;
        var list = arguments.Skip(first).TakeWhile(one => one.Numbers > 0).ToList();
        if (list.Count >= ListFrom
            && ScaleGuess.Of(list.Min(one => one.Lowest), list.Max(one => one.Highest), IsWhole(list[0].Tag)) is { } scale)
        {
            yield return new(family.Template, first, MeterPacking.Arguments, null, scale, list.Count, frame);
        }
    }

    private static bool IsWhole(byte tag) => tag is OscTypeTag.Int32 or OscTypeTag.Int64;
}
