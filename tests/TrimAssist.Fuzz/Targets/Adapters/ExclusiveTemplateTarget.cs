using System.Text;
using TrimAssist.Desk.Profiles.Templates;

namespace TrimAssist.Fuzz.Targets.Adapters;

/// <summary>A first line as a template of a system exclusive message, and the rest held against it: what it writes it reads.</summary>
public static class ExclusiveTemplateTarget
{
    public static void Run(ReadOnlySpan<byte> bytes)
    {
        var end = bytes.IndexOf((byte)'\n');
        var text = Encoding.UTF8.GetString(end < 0 ? bytes : bytes[..end]);
        if (ExclusiveTemplate.Parse(text, new Checksum(ChecksumRule.SumToZero, 1), out var fault) is not { } template)
        {
            Expect.That(fault is { Length: > 0 }, "refused without a reason");
            return;
        }

        if (end >= 0)
            template.TryMatch(bytes[(end + 1)..], 1, out _, out _);
        foreach (var input in new[] { 1, 7, 128 })
        {
            if (template.Format(input, template.HasValue ? 5 : null) is not { } message)
                continue;
            Expect.That(message[0] == 0xF0 && message[^1] == 0xF7 && message.AsSpan(1, message.Length - 2).IndexOfAnyInRange((byte)0x80, (byte)0xFF) < 0, "writes no message");
            Expect.That(template.TryMatch(message, 1, out _, out _), "does not know its own writing");
        }
    }
}
