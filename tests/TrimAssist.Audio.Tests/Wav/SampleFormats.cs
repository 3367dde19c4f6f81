using CsCheck;
using NAudio.Wave;
using TrimAssist.Audio.Tests.Kit;

namespace TrimAssist.Audio.Tests.Wav;

public sealed class SampleFormats
{
    public static TheoryData<int, bool> WholeNumberFormats => new()
    {
        { 8, false }, { 16, false }, { 24, false }, { 32, false }, { 8, true }, { 16, true }, { 24, true }, { 32, true },
    };

    [Theory]
    [MemberData(nameof(WholeNumberFormats))]
    public void Whole_numbers_come_back_exactly_as_shares_of_full_scale(int bits, bool extensible)
    {
        var full = 1L << (bits - 1);
        long[] values = [-full, -1, 0, 1, full / 3, full - 1];
        var bytes = new WavBytes(Bits: bits) { Extensible = extensible }.With([.. values.SelectMany(v => Written(v, bits))]);

        using var file = Reading.Open(bytes);

        Assert.Equal(values.Select(v => v / (double)full), Reading.All(file)[0]);
        Assert.Null(file.Repair);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Single_floats_come_back_exactly(bool extensible)
    {
        float[] values = [0f, 1f, -1f, 0.1f, 1.5f, float.Epsilon, -3.4e5f];
        var bytes = new WavBytes(Bits: 32, Tag: 3) { Extensible = extensible }.With([.. values.SelectMany(BitConverter.GetBytes)]);

        using var file = Reading.Open(bytes);

        Assert.Equal(values.Select(v => (double)v), Reading.All(file)[0]);
    }

    [Fact]
    public void Double_floats_keep_every_bit()
    {
        double[] values = [0.1, 1 - 1e-16, -1.0000000000000002, 1e-300, 123.456789012345678];
        var bytes = new WavBytes(Bits: 64, Tag: 3).With([.. values.SelectMany(BitConverter.GetBytes)]);

        using var file = Reading.Open(bytes);

        Assert.Equal(values, Reading.All(file)[0]);
    }

    [Fact]
    public void Words_shorter_than_their_room_sit_at_its_top()
    {
        var bytes = new WavBytes(Bits: 20) { Extensible = true }.With(0, 0, 0x40, 0xF0, 0xFF, 0x7F);

        using var file = Reading.Open(bytes);

        Assert.Equal([0.5, ((1 << 19) - 1) / (double)(1 << 19)], Reading.All(file)[0]);
    }

    [Fact]
    public void Every_channel_keeps_to_itself_for_any_channel_count() => Gen.Select(Gen.Int[1, 130], Gen.Int[1, 1200]).Sample((channels, frames) =>
    {
        var data = new byte[channels * frames * 2];
        for (var i = 0; i < channels * frames; i++)
            BitConverter.TryWriteBytes(data.AsSpan(2 * i), (short)i);

        using var file = Reading.Open(new WavBytes(channels).With(data));
        var read = Reading.All(file);

        return read.Length == channels && read.All(c => c.Length == frames)
            && Enumerable.Range(0, channels * frames).All(i => read[i % channels][i / channels] == (short)i / 32768.0);
    }, iter: 100);

    [Theory]
    [InlineData(16)]
    [InlineData(24)]
    public void Files_written_by_NAudio_read_as_NAudio_reads_them(int bits)
    {
        var noise = Signals.Noise(5000, 7);
        using var stream = new MemoryStream();
        using (var writer = new WaveFileWriter(stream, new WaveFormat(44_100, bits, 2)))
            writer.WriteSamples([.. noise.Select(s => (float)s)], 0, noise.Length);
        var bytes = stream.ToArray();
        using var naudio = new WaveFileReader(new MemoryStream(bytes));
        var expected = new float[noise.Length];
        Assert.Equal(expected.Length, naudio.ToSampleProvider().Read(expected.AsSpan()));

        using var file = Reading.Open(bytes);
        var read = Reading.All(file);

        Assert.Equal(44_100, file.Format.SampleRate);
        Assert.Equal(expected.Select(s => (double)s), Enumerable.Range(0, noise.Length).Select(i => read[i % 2][i / 2]));
    }

    [Fact]
    public void Garbage_in_a_float_file_counts_as_silence_and_is_counted()
    {
        float[] values = [0.5f, float.NaN, float.PositiveInfinity, -2e6f, 0.25f];

        using var file = Reading.Open(new WavBytes(Bits: 32, Tag: 3).With([.. values.SelectMany(BitConverter.GetBytes)]));

        Assert.Equal([0.5, 0, 0, 0, 0.25], Reading.All(file)[0]);
        Assert.Equal(3, file.Unbelievable);
    }

    private static byte[] Written(long value, int bits)
        => bits == 8 ? [(byte)(value + 128)] : BitConverter.GetBytes(value)[..(bits / 8)];
}
