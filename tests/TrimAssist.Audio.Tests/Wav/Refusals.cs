using CsCheck;
using TrimAssist.Audio.Tests.Kit;
using TrimAssist.Audio.Wav;
using TrimAssist.Core.Meters;

namespace TrimAssist.Audio.Tests.Wav;

public sealed class Refusals
{
    private static readonly byte[] Good = new WavBytes(2).With(new byte[400]);

    public static TheoryData<string, byte[], WavFault> BadFiles => new()
    {
        { "empty", [], WavFault.Empty },
        { "text", [.. "time_s,channel,peak_dbfs"u8], WavFault.NotWav },
        { "RIFF of another kind", [.. "RIFF"u8, 4, 0, 0, 0, .. "AVI "u8], WavFault.NotWav },
        { "cut in the first id", Good[..3], WavFault.NotWav },
        { "cut in the RIFF header", Good[..9], WavFault.Truncated },
        { "cut in the format", Good[..30], WavFault.Truncated },
        { "cut before the samples", Good[..36], WavFault.Truncated },
        { "header alone", Good[..44], WavFault.NoSamples },
        { "less than one frame", Good[..47], WavFault.NoSamples },
        { "finished but empty", new WavBytes { After = WavBytes.Chunk("LIST", 1, 2) }.With(), WavFault.NoSamples },
        { "compressed", new WavBytes(Tag: 0x55).With(1, 2), WavFault.Unsupported },
        { "no channels", new WavBytes(0).With(1, 2), WavFault.Unsupported },
        { "too many channels", new WavBytes(1025, Bits: 8).With(new byte[2000]), WavFault.Unsupported },
        { "no sample rate", new WavBytes(Rate: 0).With(1, 2), WavFault.Unsupported },
        { "half floats", new WavBytes(Bits: 16, Tag: 3).With(1, 2), WavFault.Unsupported },
        { "40 bits", new WavBytes(Bits: 40).With(new byte[10]), WavFault.Unsupported },
        { "samples before their format", [.. "RIFF"u8, 20, 0, 0, 0, .. "WAVEdata"u8, 4, 0, 0, 0, 1, 2, 3, 4], WavFault.Unsupported },
        { "zeros without end", [.. Good[..12], .. new byte[200_000]], WavFault.Truncated },
    };

    [Theory]
    [MemberData(nameof(BadFiles))]
    public void A_bad_file_is_refused_with_one_sentence(string what, byte[] bytes, WavFault fault)
    {
        var refusal = Reading.Refusal(bytes);

        Assert.Equal((what, fault), (what, refusal.Fault));
        Assert.EndsWith(".", refusal.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.Reason);
    }

    [Fact]
    public void A_missing_file_and_a_folder_are_answers_too()
    {
        var folder = Path.GetTempPath();

        Assert.False(WavFile.TryOpen(Path.Combine(folder, "no such recording.wav"), out _, out var missing));
        Assert.False(WavFile.TryOpen(folder, out _, out var directory));

        Assert.Equal(new WavError(WavFault.Unreadable, "There is no such file."), missing);
        Assert.Equal(WavFault.Unreadable, directory.Fault);
    }

    [Fact]
    public void Any_bytes_are_measured_or_refused_but_never_throw()
        => Gen.Byte.Array[0, 300].Sample(Survives, iter: 20_000);

    [Fact]
    public void A_good_file_with_any_bytes_spoilt_is_measured_or_refused_but_never_throws()
    {
        var spoilt = Gen.Select(Gen.Int[0, Variants.Length - 1], Gen.Select(Gen.Int[0, 120], Gen.Byte).Array[1, 12], Gen.Int[0, 400]);
        spoilt.Sample((variant, changes, length) =>
        {
            var bytes = Variants[variant][..Math.Min(length + 20, Variants[variant].Length)];
            foreach (var (at, value) in changes)
                bytes[at % bytes.Length] = value;
            return Survives(bytes);
        }, iter: 30_000);
    }

    private static byte[][] Variants { get; } =
    [
        Good,
        new WavBytes(1, Bits: 32, Tag: 3) { Extensible = true }.With(new byte[256]),
        new WavBytes(3, Bits: 64, Tag: 3).With(new byte[256]),
        new WavBytes(1, Bits: 24) { Id = "RF64", ClaimedData = uint.MaxValue, Before = WavBytes.Ds64(80, 99, 33) }.With(new byte[99]),
    ];

    private static bool Survives(byte[] bytes)
    {
        if (!WavFile.TryOpen(new MemoryStream(bytes), out var file, out var error))
            return error.Reason.Length > 0;
        using (file)
        {
            var readings = 0;
            var measured = WavMeasurement.Of(file, new MeterTraits(0.05), _ => readings++);
            return measured.Channels.Count == file.Format.Channels && readings >= file.Format.Channels && !double.IsNaN(measured.Channels[0].Rms.Value);
        }
    }
}
