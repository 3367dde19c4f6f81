using System.Buffers.Binary;

namespace TrimAssist.Desk.Link.Metering;

/// <summary>Tells from four bytes of a message which of many known beginnings it can only have: those four in which all of them differ.</summary>
internal sealed class HeadIndex
{
    private const int KeySize = sizeof(uint);

    /// <summary>At most a quarter of the places are taken, so that hardly any two beginnings fall on the same.</summary>
    private const int PlacesPerHead = 4;

    /// <summary>2³² over the golden ratio: neighbouring keys fall far apart (Knuth, The Art of Computer Programming 3, section 6.4).</summary>
    private const uint Scatter = 2_654_435_769;

    private readonly int _at;
    private readonly int _shift;
    private readonly (uint Key, int Number)[] _places;

    private HeadIndex(int at, IReadOnlyList<byte[]> heads)
    {
        _at = at;
        var bits = System.Numerics.BitOperations.Log2((uint)heads.Count * PlacesPerHead) + 1;
        (_shift, _places) = (32 - bits, new (uint, int)[1 << bits]);
        for (var number = 1; number <= heads.Count; number++)
        {
            var key = Key(heads[number - 1], at);
            var place = Place(key);
            while (_places[place].Number != 0)
                place = Next(place);
            _places[place] = (key, number);
        }
    }

    /// <summary>An index of beginnings; <see langword="null"/> where no four bytes tell them all apart.</summary>
    public static HeadIndex? Of(IReadOnlyList<byte[]> heads)
    {
        var shortest = heads.Min(head => head.Length);
        for (var at = 0; at + KeySize <= shortest; at++)
        {
            if (heads.Select(head => Key(head, at)).Distinct().Count() == heads.Count)
                return new(at, heads);
        }

        return null;
    }

    /// <summary>The number, from 1, of the only beginning that the message may have; 0 for none.</summary>
    public int Find(ReadOnlySpan<byte> message)
    {
        if (message.Length < _at + KeySize)
            return 0;
        var key = Key(message, _at);
        for (var place = Place(key); _places[place].Number != 0; place = Next(place))
        {
            if (_places[place].Key == key)
                return _places[place].Number;
        }

        return 0;
    }

    private static uint Key(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes[at..]);

    private int Place(uint key) => (int)((key * Scatter) >> _shift);

    private int Next(int place) => (place + 1) & (_places.Length - 1);
}
