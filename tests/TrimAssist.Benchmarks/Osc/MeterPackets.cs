using System.Buffers.Binary;
using System.Text;
using TrimAssist.Protocols.Osc;

namespace TrimAssist.Benchmarks.Osc;

/// <summary>The bytes that every codec gets: 64 inputs, one float each, as messages, as a bundle, and as one blob.</summary>
internal static class MeterPackets
{
    public const int Inputs = 64;

    public static string[] Addresses { get; } = [.. Enumerable.Range(1, Inputs).Select(input => $"/lv/{input:00}")];

    public static byte[][] Singles { get; } = [.. Addresses.Select((address, i) => Single(address, Level(i)))];

    public static byte[] Bundle { get; } = MakeBundle();

    public static byte[] Blob { get; } = MakeBlob();

    public static float Level(int input) => -60 + (input * 0.5f);

    public static byte[] Single(string address, float level)
    {
        var buffer = new byte[64];
        var writer = new OscWriter(buffer);
        writer.BeginMessage(Encoding.ASCII.GetBytes(address), "f"u8);
        writer.WriteFloat(level);
        writer.EndMessage();
        return Finish(buffer, ref writer);
    }

    private static byte[] MakeBundle()
    {
        var buffer = new byte[4096];
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        for (var i = 0; i < Inputs; i++)
        {
            writer.BeginMessage(Encoding.ASCII.GetBytes(Addresses[i]), "f"u8);
            writer.WriteFloat(Level(i));
            writer.EndMessage();
        }

        writer.EndBundle();
        return Finish(buffer, ref writer);
    }

    private static byte[] MakeBlob()
    {
        var levels = new byte[Inputs * sizeof(float)];
        for (var i = 0; i < Inputs; i++)
            BinaryPrimitives.WriteSingleBigEndian(levels.AsSpan(i * sizeof(float)), Level(i));
        var buffer = new byte[1024];
        var writer = new OscWriter(buffer);
        writer.BeginMessage("/lv/all"u8, "b"u8);
        writer.WriteBlob(levels);
        writer.EndMessage();
        return Finish(buffer, ref writer);
    }

    private static byte[] Finish(byte[] buffer, ref OscWriter writer) => writer.TryFinish(out var length)
        ? buffer[..length]
        : throw new InvalidOperationException($"The packet cannot be written: {writer.Error}.");
}
