using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using TrimAssist.Core.Desks;

namespace TrimAssist.Core.Proposals;

/// <summary>The name of exactly what was shown: confirming is naming this.</summary>
public static class ProposalDigest
{
    /// <summary>SHA-256 over id, desk, inputs, socket, kind, from, to and step, as 64 lower-case hexadecimal digits.</summary>
    public static string Of(
        Guid id, string desk, IReadOnlyList<int> inputs, string? socket, ProposalKind kind, SettingValue from, SettingValue to, int step)
    {
        // Every part carries its length, so that no two different proposals can spell the same text.
        var text = new StringBuilder();
        Add(text, id.ToString("N"));
        Add(text, desk);
        Add(text, string.Join(',', inputs.Select(input => input.ToString(CultureInfo.InvariantCulture))));
        Add(text, socket ?? "");
        Add(text, kind.ToString());
        Add(text, Exact(from));
        Add(text, Exact(to));
        Add(text, step.ToString(CultureInfo.InvariantCulture));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    private static void Add(StringBuilder text, string part) =>
        text.Append(part.Length.ToString(CultureInfo.InvariantCulture)).Append(':').Append(part).Append(';');

    private static string Exact(SettingValue value) =>
        value.Db is { } db ? db.ToString("R", CultureInfo.InvariantCulture) : value.On is true ? "on" : "off";
}
