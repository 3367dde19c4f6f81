using TrimAssist.Audio.Wav;

namespace TrimAssist.Audio.Tests.Kit;

/// <summary>Reads whole WAV files from memory.</summary>
internal static class Reading
{
    public static WavFile Open(byte[] bytes)
    {
        Assert.True(WavFile.TryOpen(new MemoryStream(bytes), out var file, out var error), error?.Reason);
        return file!;
    }

    public static WavError Refusal(byte[] bytes)
    {
        Assert.False(WavFile.TryOpen(new MemoryStream(bytes), out _, out var error));
        return error!;
    }

    public static double[][] All(WavFile file)
    {
        var channels = Enumerable.Range(0, file.Format.Channels).Select(_ => new List<double>()).ToArray();
        var block = file.NewBlock();
        while (file.Read(block))
        {
            for (var channel = 0; channel < channels.Length; channel++)
                channels[channel].AddRange(block.Channel(channel));
        }

        return [.. channels.Select(c => c.ToArray())];
    }
}
