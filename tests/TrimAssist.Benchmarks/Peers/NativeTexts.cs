using System.Runtime.InteropServices;
using System.Text;

namespace TrimAssist.Benchmarks.Peers;

/// <summary>Byte strings in memory that stays put, as C takes them; kept until the process ends.</summary>
internal sealed unsafe class NativeTexts
{
    public NativeTexts(IReadOnlyList<byte[]> texts)
    {
        Count = texts.Count;
        Size = texts[0].Length;
        Pointers = (byte**)NativeMemory.Alloc((nuint)Count, (nuint)sizeof(byte*));
        for (var i = 0; i < Count; i++)
        {
            Pointers[i] = (byte*)NativeMemory.AlignedAlloc((nuint)texts[i].Length, 16);
            texts[i].CopyTo(new Span<byte>(Pointers[i], texts[i].Length));
        }
    }

    /// <summary>Zero-terminated addresses.</summary>
    public static NativeTexts Of(IReadOnlyList<string> addresses) => new([.. addresses.Select(address => Encoding.ASCII.GetBytes(address + '\0'))]);

    public byte** Pointers { get; }

    public int Count { get; }

    public int Size { get; }
}
