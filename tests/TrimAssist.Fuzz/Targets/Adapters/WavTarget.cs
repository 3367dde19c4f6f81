using TrimAssist.Audio.Wav;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>Any bytes as a WAV file, read to its end.</summary>
public static class WavTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        if (!WavFile.TryOpen(new MemoryStream(bytes.ToArray()), out var file, out var error))
        {
            Expect.That(error.Reason.Length > 0, "refused without a reason");
            return;
        }

        using (file)
        {
            var block = file.NewBlock();
            while (file.Read(block))
                Expect.That(block.Frames > 0, "a block of nothing");
        }
    }
}
