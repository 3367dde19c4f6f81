namespace TrimAssist.Fuzz;

/// <summary>What a fuzzer does to its files, without a fuzzer: bits turned, bytes set to awkward values, parts cut, doubled and swapped.</summary>
public static class Mutation
{
    private const int MostChanges = 6;
    private const int Longest = 4096;
    private static readonly byte[] Awkward = [0x00, 0x01, 0x7F, 0x80, 0xFF, (byte)'/', (byte)',', (byte)'#', (byte)'[', (byte)']', 0xC0, 0xDB, 0xF0, 0xF7];

    /// <summary>A mutated file, now and then crossed with another.</summary>
    public static byte[] Of(IReadOnlyList<byte[]> files, Random chance)
    {
        var bytes = files[chance.Next(files.Count)].ToList();
        for (var changes = chance.Next(1, MostChanges); changes > 0; changes--)
            Change(bytes, files[chance.Next(files.Count)], chance);
        return [.. bytes.Take(Longest)];
    }

    private static void Change(List<byte> bytes, byte[] other, Random chance)
    {
        var at = chance.Next(bytes.Count + 1);
        var length = Math.Min(chance.Next(1, 16), bytes.Count - at);
        switch (chance.Next(6))
        {
            case 0 when at < bytes.Count:
                bytes[at] ^= (byte)(1 << chance.Next(8));
                break;
            case 1 when at < bytes.Count:
                bytes[at] = Awkward[chance.Next(Awkward.Length)];
                break;
            case 2:
                bytes.RemoveRange(at, length);
                break;
            case 3:
                bytes.InsertRange(at, bytes.GetRange(at, length));
                break;
            case 4:
                bytes.InsertRange(at, Enumerable.Range(0, 4).Select(_ => (byte)chance.Next(256)));
                break;
            default:
                bytes.InsertRange(at, other.AsSpan(0, Math.Min(other.Length, chance.Next(1, 64))).ToArray());
                break;
        }
    }
}
