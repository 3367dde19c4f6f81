using System.Globalization;
using System.Text.RegularExpressions;

namespace TrimAssist.Service.Listen;

/// <summary>Addresses that differ in one number only, most likely the input's.</summary>
/// <param name="Template">The address with a place for the input; the address itself where no number varies.</param>
/// <param name="Inputs">The inputs that the addresses name; 0 for an address without a number.</param>
/// <param name="Members">What came under them, in the order of the inputs.</param>
internal sealed partial record AddressGroup(string Template, IReadOnlyList<int> Inputs, IReadOnlyList<AddressTally> Members)
{
    /// <summary>The type tags, the same for all.</summary>
    public string Types => Members[0].Types;

    /// <summary>Whether the address names an input.</summary>
    public bool NamesInput => Inputs[0] > 0;

    /// <summary>Messages per second of the busiest member; <see langword="null"/> while that is not known.</summary>
    public double? PerSecond => Members.Max(member => member.PerSecond);

    /// <summary>Sorts what came into families.</summary>
    public static IReadOnlyList<AddressGroup> Of(IEnumerable<AddressTally> tallies) =>
    [
        .. tallies
            .GroupBy(tally => (Skeleton: Number().Replace(tally.Address, "#"), tally.Types))
            .SelectMany(group => Split([.. group]))
            .OrderBy(family => family.Template, StringComparer.Ordinal),
    ];

    /// <summary>The lowest and highest number of an argument over all members; <see langword="null"/> where there is none.</summary>
    public (double Low, double High)? RangeOf(int argument)
    {
        var numbers = Members.Select(member => member.Arguments[argument]).Where(one => one.Numbers > 0).ToList();
        return numbers.Count == 0 ? null : (numbers.Min(one => one.Lowest), numbers.Max(one => one.Highest));
    }

    private static IEnumerable<AddressGroup> Split(List<AddressTally> members)
    {
        var numbers = members.ConvertAll(member => Number().Matches(member.Address).Select(match => match.Value).ToArray());
        var places = numbers[0].Length;
        if (places == 0)
            return members.Select(member => new AddressGroup(member.Address, [0], [member]));

        var varying = Enumerable.Range(0, places).Where(place => numbers.Select(one => one[place]).Distinct(StringComparer.Ordinal).Count() > 1).ToList();
        return varying.Count switch
        {
            0 => [Join(members, numbers, places - 1)],
            1 => [Join(members, numbers, varying[0])],
            _ => members.Select(member => new AddressGroup(member.Address, [0], [member])),
        };
    }

    private static AddressGroup Join(List<AddressTally> members, List<string[]> numbers, int place)
    {
        var values = numbers.ConvertAll(one => int.TryParse(one[place], NumberStyles.None, CultureInfo.InvariantCulture, out var value) ? value : -1);
        if (values.Exists(value => value is < 0 or > 99_999))
            return new AddressGroup(members[0].Address, [0], members);

        // Counted from 1, unless the desk begins at 0 or far above.
        var lowest = values.Min();
        var offset = lowest == 0 ? -1 : lowest > 64 ? lowest - 1 : 0;
        var padded = numbers.Exists(one => one[place].Length > 1 && one[place][0] == '0');
        var zeros = padded ? ":" + new string('0', numbers.Min(one => one[place].Length)) : "";
        var sign = offset == 0 ? "" : offset.ToString("+0;-0", CultureInfo.InvariantCulture);
        var seen = 0;
        var template = Number().Replace(members[0].Address, match => seen++ == place ? $"{{input{sign}{zeros}}}" : match.Value);
        var ordered = members.Zip(values, (member, value) => (member, Input: value - offset)).OrderBy(one => one.Input).ToList();
        return new AddressGroup(template, [.. ordered.Select(one => one.Input)], [.. ordered.Select(one => one.member)]);
    }

    [GeneratedRegex("[0-9]+", RegexOptions.NonBacktracking, 10_000)]
    private static partial Regex Number();
}
