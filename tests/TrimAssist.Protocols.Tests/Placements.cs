namespace TrimAssist.Protocols.Tests;

internal delegate void ReadBytes(ReadOnlySpan<byte> bytes);

/// <summary>Runs a check on the same bytes right-sized, and inside larger buffers of guard bytes at aligned and odd places.</summary>
internal static class Placements
{
    public static void ForEach(ReadOnlySpan<byte> bytes, ReadBytes check)
    {
        check(bytes.ToArray());
        foreach (var (guard, offset) in new[] { ((byte)0xFF, 4), ((byte)0x00, 4), ((byte)0xFF, 1), ((byte)0x2F, 7) })
        {
            var buffer = new byte[bytes.Length + 16];
            buffer.AsSpan().Fill(guard);
            bytes.CopyTo(buffer.AsSpan(offset));
            check(buffer.AsSpan(offset, bytes.Length));
        }
    }
}
