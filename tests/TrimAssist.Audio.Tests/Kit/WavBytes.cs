using System.Buffers.Binary;
using System.Text;

namespace TrimAssist.Audio.Tests.Kit;

/// <summary>Writes WAV files byte by byte, right or deliberately wrong.</summary>
internal sealed record WavBytes(int Channels = 1, int Bits = 16, int Tag = 1, int Rate = 48_000)
{
    public bool Extensible { get; init; }

    public string Id { get; init; } = "RIFF";

    /// <summary>What the data chunk claims; the truth where null.</summary>
    public uint? ClaimedData { get; init; }

    /// <summary>What the RIFF chunk claims; the truth where null.</summary>
    public uint? ClaimedRiff { get; init; }

    /// <summary>Chunks before the samples.</summary>
    public byte[] Before { get; init; } = [];

    /// <summary>Chunks after the samples.</summary>
    public byte[] After { get; init; } = [];

    public int BytesPerFrame => Channels * ((Bits + 7) / 8);

    public static byte[] Chunk(string id, params byte[] body)
        => [.. Encoding.ASCII.GetBytes(id), .. Little((uint)body.Length), .. body, .. body.Length % 2 == 1 ? [0] : Array.Empty<byte>()];

    public static byte[] Ds64(ulong riff, ulong data, ulong frames) => Chunk("ds64", [.. Long(riff), .. Long(data), .. Long(frames), 0, 0, 0, 0]);

    public byte[] With(params byte[] data)
    {
        byte[] rest =
        [
            .. "WAVE"u8, .. Before, .. Chunk("fmt ", Format()),
            .. "data"u8, .. Little(ClaimedData ?? (uint)data.Length), .. data, .. After,
        ];
        return [.. Encoding.ASCII.GetBytes(Id), .. Little(ClaimedRiff ?? (uint)rest.Length), .. rest];
    }

    private byte[] Format()
    {
        byte[] plain =
        [
            .. Short(Extensible ? 0xFFFE : Tag), .. Short(Channels), .. Little((uint)Rate),
            .. Little((uint)(Rate * BytesPerFrame)), .. Short(BytesPerFrame), .. Short((Bits + 7) / 8 * 8),
        ];
        return Extensible
            ? [.. plain, .. Short(22), .. Short(Bits), .. Little(0), .. Short(Tag), 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xAA, 0, 0x38, 0x9B, 0x71]
            : plain;
    }

    private static byte[] Short(int value) => [(byte)value, (byte)(value >> 8)];

    private static byte[] Little(uint value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
        return bytes;
    }

    private static byte[] Long(ulong value)
    {
        var bytes = new byte[8];
        BinaryPrimitives.WriteUInt64LittleEndian(bytes, value);
        return bytes;
    }
}
