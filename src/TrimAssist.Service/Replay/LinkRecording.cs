using System.Buffers;
using System.Globalization;
using System.Net;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;

namespace TrimAssist.Service.Replay;

/// <summary>A packet that a desk sent, as recorded.</summary>
/// <param name="Desk">The desk's id.</param>
/// <param name="TimeS">Seconds since the desk's session began.</param>
/// <param name="Sender">Who sent it.</param>
/// <param name="Bytes">The packet.</param>
internal sealed record RecordedPacket(string Desk, double TimeS, IPAddress Sender, byte[] Bytes);

/// <summary>A recorded link, read from its file line by line as it is played; never whole in memory.</summary>
internal sealed class LinkRecording : IDisposable
{
    /// <summary>The longest line that is read as a packet: the largest datagram in hexadecimal, and its head.</summary>
    private const int LongestLine = (2 * 65_536) + 256;

    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789abcdefABCDEF");

    private readonly TextReader _text;
    private string? _line;

    private LinkRecording(TextReader text) => _text = text;

    /// <summary>When it was begun.</summary>
    public DateTimeOffset Began { get; private set; } = DateTimeOffset.UnixEpoch;

    /// <summary>The desks, as their recorded profiles describe them.</summary>
    public IReadOnlyList<DeskProfile> Desks { get; private set; } = [];

    /// <summary>Lines that hold no packet that can be read: a recording may have been cut off in the middle of one.</summary>
    public long BadLines { get; private set; }

    /// <summary>Opens a recording and reads its head.</summary>
    /// <param name="text">The file's text.</param>
    /// <param name="name">The file's name, for complaints.</param>
    /// <param name="fault">Why it cannot be played; <see langword="null"/> when all is well.</param>
    public static LinkRecording? Open(TextReader text, string name, out string? fault)
    {
        var recording = new LinkRecording(text);
        fault = recording.ReadHead(name);
        return fault is null ? recording : null;
    }

    /// <summary>The packets that the desks sent, in the file's order.</summary>
    public IEnumerable<RecordedPacket> Packets()
    {
        for (; _line is not null; _line = _text.ReadLine())
        {
            if (_line.Length == 0 || _line[0] == RecordingFormat.Remark)
                continue;
            var (packet, isGood) = Read(_line);
            if (packet is not null)
                yield return packet;
            BadLines += isGood ? 0 : 1;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _text.Dispose();

    private string? ReadHead(string name)
    {
        if (!string.Equals(_text.ReadLine(), RecordingFormat.FirstLine, StringComparison.Ordinal))
            return $"{name}:1: is no link recording: its first line is not \"{RecordingFormat.FirstLine}\".";

        List<DeskProfile> desks = [];
        _line = _text.ReadLine();
        for (var number = 2; _line is not null; number++)
        {
            if (_line.StartsWith(RecordingFormat.Began, StringComparison.Ordinal)
                && DateTimeOffset.TryParse(_line.AsSpan(RecordingFormat.Began.Length), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var began))
            {
                (Began, _line) = (began, _text.ReadLine());
            }
            else if (_line.StartsWith(RecordingFormat.Desk, StringComparison.Ordinal))
            {
                if (ReadProfile(name, number, desks) is { } fault)
                    return fault;
            }
            else
            {
                break;
            }
        }

        Desks = desks;
        return desks.Count == 0 ? $"{name}: names no desk." : null;
    }

    private string? ReadProfile(string name, int number, List<DeskProfile> desks)
    {
        var lines = new List<string>();
        while ((_line = _text.ReadLine()) is { } line && line.StartsWith(RecordingFormat.ProfileLine, StringComparison.Ordinal))
            lines.Add(line[RecordingFormat.ProfileLine.Length..]);
        var reading = ProfileReader.Read(string.Join('\n', lines), $"{name}:{number}");
        if (reading.Profile is not { } profile)
            return string.Join(Environment.NewLine, reading.Errors);
        if (desks.Exists(other => string.Equals(other.Id, profile.Id, StringComparison.Ordinal)))
            return $"{name}:{number}: two desks have the id \"{profile.Id}\".";
        desks.Add(profile);
        return null;
    }

    private static (RecordedPacket? Packet, bool IsGood) Read(string line)
    {
        if (line.Length > LongestLine)
            return (null, false);
        var words = line.Split(' ');
        if (words is [_, _, RecordingFormat.ToDesk, _])
            return (null, true);
        return words is [var time, var desk, RecordingFormat.FromDesk, var sender, var hex]
            && double.TryParse(time, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var timeS)
            && double.IsFinite(timeS)
            && IPAddress.TryParse(sender, out var address)
            && hex.Length % 2 == 0 && !hex.AsSpan().ContainsAnyExcept(HexDigits)
            ? (new RecordedPacket(desk, timeS, address, Convert.FromHexString(hex)), true)
            : (null, false);
    }
}
