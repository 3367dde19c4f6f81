using BenchmarkDotNet.Attributes;
using TrimAssist.Benchmarks.Desk;
using TrimAssist.Benchmarks.Peers;
using TrimAssist.Desk.Link.Metering;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Benchmarks.Osc;

/// <summary>From bytes to a number and to the input that it belongs to; per message, or per blob of 64 levels.</summary>
[CategoriesColumn]
public unsafe class DecodeBenchmarks
{
    private static readonly NativeTexts Singles = new(MeterPackets.Singles);
    private static readonly NativeTexts Bundle = new([MeterPackets.Bundle]);
    private static readonly NativeTexts Blob = new([MeterPackets.Blob]);
    private readonly float[] _levels = new float[MeterPackets.Inputs];
    private readonly MessageForm _form = MessageForm.Of(BenchmarkDesk.Address, MeterPackets.Inputs, "f"u8, 0)!;
    private NativeTexts _addresses = null!;

    [GlobalSetup]
    public void Open()
    {
        _addresses = NativeTexts.Of(MeterPackets.Addresses);
        Native.Open(_addresses.Pointers, _addresses.Count);
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("parse")]
    public double ParseOscpack() => Native.OscpackParse(Singles.Pointers, Singles.Size, Singles.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("parse")]
    public double ParseLiblo() => Native.LibloParse(Singles.Pointers, Singles.Size, Singles.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("parse")]
    public double Parse()
    {
        double sum = 0;
        foreach (var packet in MeterPackets.Singles)
        {
            var reader = new OscPacketReader(packet);
            while (reader.TryReadMessage(out var message))
                sum += message.TryReadFloat(out var value) ? value + message.Address[4] : 0;
        }

        return sum;
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("dispatch")]
    public double DispatchOscpack() => Native.OscpackDispatch(Singles.Pointers, Singles.Size, Singles.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("dispatch")]
    public double DispatchLiblo() => Native.LibloDispatch(Singles.Pointers, Singles.Size, Singles.Count);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("dispatch")]
    public double Dispatch()
    {
        double sum = 0;
        foreach (var packet in MeterPackets.Singles)
            sum += Dispatched(packet);
        return sum;
    }

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("dispatch")]
    public double DispatchByForm()
    {
        double sum = 0;
        foreach (var packet in MeterPackets.Singles)
        {
            if (_form.TryRead(packet, out var input, out var value))
                sum += input + value;
        }

        return sum;
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("bundle")]
    public double BundleOscpack() => Native.OscpackBundle(Bundle.Pointers[0], Bundle.Size);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("bundle")]
    public double BundleLiblo() => Native.LibloBundle(Bundle.Pointers[0], Bundle.Size);

    [Benchmark(OperationsPerInvoke = MeterPackets.Inputs), BenchmarkCategory("bundle")]
    public double BundleOurs() => Dispatched(MeterPackets.Bundle);

    [Benchmark(Baseline = true), BenchmarkCategory("blob")]
    public double BlobOscpack()
    {
        fixed (float* levels = _levels)
            return Native.OscpackBlob(Blob.Pointers[0], Blob.Size, levels);
    }

    [Benchmark, BenchmarkCategory("blob")]
    public double BlobOurs()
    {
        var reader = new OscPacketReader(MeterPackets.Blob);
        while (reader.TryReadMessage(out var message))
        {
            if (message.TryReadBlob(out var blob))
                OscBlobNumbers.ReadFloats(blob, _levels);
        }

        return _levels[0];
    }

    private static double Dispatched(ReadOnlySpan<byte> packet)
    {
        double sum = 0;
        var reader = new OscPacketReader(packet);
        while (reader.TryReadMessage(out var message))
        {
            if (BenchmarkDesk.Address.TryMatch(message.Address, out var input, out _) && message.TryReadNumberAt(0, out var value))
                sum += input + value;
        }

        return sum;
    }
}
