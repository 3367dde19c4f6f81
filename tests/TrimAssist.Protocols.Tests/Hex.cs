namespace TrimAssist.Protocols.Tests;

/// <summary>Bytes as the standards print them.</summary>
internal static class Hex
{
    public static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));

    public static string Print(ReadOnlySpan<byte> bytes) => string.Join(' ', bytes.ToArray().Select(value => value.ToString("X2")));
}
