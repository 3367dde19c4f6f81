using System.Runtime.InteropServices;
using System.Text;
using BenchmarkDotNet.Attributes;
using TrimAssist.Benchmarks.Peers;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Benchmarks.Osc;

/// <summary>From a number to bytes; per message.</summary>
[CategoriesColumn]
public unsafe class EncodeBenchmarks
{
    private const int Room = 4096;
    private static readonly NativeTexts Addresses = NativeTexts.Of(MeterPackets.Addresses);
    private static readonly byte[][] Ours = [.. MeterPackets.Addresses.Select(Encoding.ASCII.GetBytes)];
    private static readonly byte* Buffer = (byte*)NativeMemory.AlignedAlloc(Room, 64);

    [Benchmark(Baseline = true, OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("single")]
    public int SingleOscpack() => Native.OscpackEncode(Buffer, Room, Addresses.Pointers, Addresses.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("single")]
    public int SingleLiblo() => Native.LibloEncode(Buffer, Room, Addresses.Pointers, Addresses.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("single")]
    public int SingleOurs()
    {
        var sum = 0;
        foreach (var address in Ours)
        {
            var writer = new OscWriter(new Span<byte>(Buffer, Room));
            Put(ref writer, address);
            sum += writer.TryFinish(out var length) ? length : 0;
        }

        return sum;
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("bundle")]
    public int BundleOscpack() => Native.OscpackEncodeBundle(Buffer, Room, Addresses.Pointers, Addresses.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("bundle")]
    public int BundleOurs()
    {
        var writer = new OscWriter(new Span<byte>(Buffer, Room));
        writer.BeginBundle(OscTimeTag.Immediate);
        foreach (var address in Ours)
            Put(ref writer, address);
        writer.EndBundle();
        return writer.TryFinish(out var length) ? length : 0;
    }

    private static void Put(ref OscWriter writer, byte[] address)
    {
        writer.BeginMessage(address, "f"u8);
        writer.WriteFloat(-20.5f);
        writer.EndMessage();
    }
}
