using TrimAssist.Audio.Samples;

namespace TrimAssist.Audio.Tests.Kit;

/// <summary>Cuts channels into blocks.</summary>
internal static class Blocks
{
    public static SampleBlock Of(params double[][] channels) => Part(channels, 0, channels[0].Length);

    /// <summary>Blocks of the sizes given, over and over, until the channels are used up.</summary>
    public static IEnumerable<SampleBlock> Cut(double[][] channels, params int[] sizes)
    {
        for (int from = 0, turn = 0; from < channels[0].Length; turn++)
        {
            var size = Math.Min(sizes[turn % sizes.Length], channels[0].Length - from);
            yield return Part(channels, from, size);
            from += size;
        }
    }

    private static SampleBlock Part(double[][] channels, int from, int size)
    {
        var block = new SampleBlock(channels.Length, size);
        block.Resize(size);
        for (var channel = 0; channel < channels.Length; channel++)
            channels[channel].AsSpan(from, size).CopyTo(block.Fill(channel));
        return block;
    }
}
