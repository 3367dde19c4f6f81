using TrimAssist.Audio.Tests.Kit;
using TrimAssist.Audio.Wav;

namespace TrimAssist.Audio.Tests.Wav;

public sealed class Containers
{
    private static readonly byte[] TwoSamples = [0, 0x40, 0, 0xC0];

    [Fact]
    public void Broadcast_and_other_chunks_around_the_samples_are_passed_over()
    {
        var wav = new WavBytes
        {
            Before = [.. WavBytes.Chunk("bext", new byte[603]), .. WavBytes.Chunk("JUNK", new byte[28])],
            After = WavBytes.Chunk("LIST", new byte[11]),
        };

        AssertHalves(wav.With(TwoSamples), repaired: false);
    }

    [Theory]
    [InlineData("RF64")]
    [InlineData("BW64")]
    public void Sixty_four_bit_sizes_come_from_ds64(string id)
    {
        var wav = new WavBytes { Id = id, ClaimedRiff = uint.MaxValue, ClaimedData = uint.MaxValue, Before = WavBytes.Ds64(80, 4, 2), After = WavBytes.Chunk("LIST", new byte[12]) };

        AssertHalves(wav.With(TwoSamples), repaired: false);
    }

    [Fact]
    public void An_odd_chunk_whose_padding_was_forgotten_is_passed_over()
    {
        byte[] unpadded = WavBytes.Chunk("odd ", 1, 2, 3)[..^1];

        AssertHalves(new WavBytes { Before = unpadded }.With(TwoSamples), repaired: false);
    }

    [Theory]
    [InlineData(0u, 0u)]
    [InlineData(0u, uint.MaxValue)]
    [InlineData(uint.MaxValue, uint.MaxValue)]
    [InlineData(uint.MaxValue, 0u)]
    public void A_recording_that_was_never_finished_is_read_to_its_end(uint data, uint riff)
        => AssertHalves(new WavBytes { ClaimedData = data, ClaimedRiff = riff }.With(TwoSamples), repaired: true);

    [Theory]
    [InlineData(0ul)]
    [InlineData(ulong.MaxValue)]
    public void An_unfinished_RF64_recording_is_read_to_its_end(ulong data)
    {
        var wav = new WavBytes { Id = "RF64", ClaimedRiff = uint.MaxValue, ClaimedData = uint.MaxValue, Before = WavBytes.Ds64(0, data, 0) };

        AssertHalves(wav.With(TwoSamples), repaired: true);
    }

    [Fact]
    public void A_recording_cut_short_gives_what_is_there_and_says_what_is_missing()
    {
        var whole = new WavBytes(Rate: 4_000).With(new byte[16_000]);

        using var file = Reading.Open(whole[..^8_001]);

        Assert.Equal(3_999, file.Frames);
        Assert.Equal("The file is cut short: its header promises 2 s, 1 s are there.", file.Repair);
        Assert.Equal(3_999, Reading.All(file)[0].Length);
    }

    [Fact]
    public void A_file_that_shrinks_while_it_is_read_ends_early_without_an_exception()
    {
        var stream = new MemoryStream();
        stream.Write(new WavBytes().With(new byte[400_000]));
        Assert.True(WavFile.TryOpen(stream, out var file, out _));
        var block = file!.NewBlock();
        Assert.True(file.Read(block));

        stream.SetLength(200_000);

        Assert.True(file.Read(block));
        Assert.False(file.Read(block));
    }

    private static void AssertHalves(byte[] bytes, bool repaired)
    {
        using var file = Reading.Open(bytes);
        Assert.Equal(repaired, file.Repair is not null);
        Assert.Equal([0.5, -0.5], Reading.All(file)[0]);
    }
}
