using System.Runtime.InteropServices;

namespace TrimAssist.Benchmarks.Peers;

/// <summary>The peers in C and C++, built by <c>eng/bench/peers/build.sh</c> and found through LD_LIBRARY_PATH.</summary>
internal static unsafe partial class Native
{
    private const string Library = "trimassist-peers";

    [LibraryImport(Library, EntryPoint = "peers_open")]
    public static partial void Open(byte** addresses, int count);

    [LibraryImport(Library, EntryPoint = "oscpack_parse")]
    public static partial double OscpackParse(byte** packets, int size, int count);

    [LibraryImport(Library, EntryPoint = "oscpack_dispatch")]
    public static partial double OscpackDispatch(byte** packets, int size, int count);

    [LibraryImport(Library, EntryPoint = "oscpack_bundle")]
    public static partial double OscpackBundle(byte* packet, int size);

    [LibraryImport(Library, EntryPoint = "oscpack_blob")]
    public static partial double OscpackBlob(byte* packet, int size, float* levels);

    [LibraryImport(Library, EntryPoint = "oscpack_encode")]
    public static partial int OscpackEncode(byte* buffer, int room, byte** addresses, int count);

    [LibraryImport(Library, EntryPoint = "oscpack_encode_bundle")]
    public static partial int OscpackEncodeBundle(byte* buffer, int room, byte** addresses, int count);

    [LibraryImport(Library, EntryPoint = "liblo_parse")]
    public static partial double LibloParse(byte** packets, int size, int count);

    [LibraryImport(Library, EntryPoint = "liblo_dispatch")]
    public static partial double LibloDispatch(byte** packets, int size, int count);

    [LibraryImport(Library, EntryPoint = "liblo_bundle")]
    public static partial double LibloBundle(byte* packet, int size);

    [LibraryImport(Library, EntryPoint = "liblo_encode")]
    public static partial int LibloEncode(byte* buffer, int room, byte** addresses, int count);

    [LibraryImport(Library, EntryPoint = "ebur128_cost")]
    public static partial double Ebur128(double* samples, int count, int rate, int truePeak);

    [LibraryImport(Library, EntryPoint = "c_drain_many")]
    public static partial int DrainMany(int socket);
}
