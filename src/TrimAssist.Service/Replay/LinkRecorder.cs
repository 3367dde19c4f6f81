using System.Globalization;
using System.Net;
using System.Threading.Channels;
using TrimAssist.Desk.Link.Transport;
using TrimAssist.Desk.Profiles;

namespace TrimAssist.Service.Replay;

/// <summary>
/// Writes every desk's raw packets with their times into a file. Never holds a desk's loop up: what the disk does not take in time is
/// left out and counted, and a disk that fails ends the recording, not the watch.
/// </summary>
internal sealed class LinkRecorder : IAsyncDisposable
{
    private const int Room = 8192;

    private readonly Channel<Line> _lines = Channel.CreateBounded<Line>(new BoundedChannelOptions(Room) { SingleReader = true });
    private readonly StreamWriter _file;
    private readonly Action<string> _complain;
    private readonly Task _writing;
    private long _leftOut;

    private LinkRecorder(StreamWriter file, Action<string> complain)
    {
        (_file, _complain) = (file, complain);
        _writing = WriteAsync();
    }

    /// <summary>Begins a recording in a new file.</summary>
    /// <param name="path">The file; it must not be there yet.</param>
    /// <param name="profiles">The desks; their profiles go into the recording, so that it can be replayed anywhere.</param>
    /// <param name="time">The clock.</param>
    /// <param name="complain">Told, once, when the disk fails.</param>
    /// <exception cref="IOException">The file is there already or cannot be made.</exception>
    public static LinkRecorder Create(string path, IReadOnlyList<DeskProfile> profiles, TimeProvider time, Action<string> complain)
    {
        var file = new StreamWriter(new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read)) { NewLine = "\n" };
        file.WriteLine(RecordingFormat.FirstLine);
        file.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{RecordingFormat.Began}{time.GetUtcNow():O}"));
        foreach (var profile in profiles)
        {
            file.WriteLine(RecordingFormat.Desk + profile.Id);
            foreach (var line in profile.SourceText.AsSpan().EnumerateLines())
                file.WriteLine(string.Concat(RecordingFormat.ProfileLine, line));
        }

        file.Flush();
        return new LinkRecorder(file, complain);
    }

    /// <summary>Sees the packets of one desk.</summary>
    public IPacketTap TapOf(string desk) => new DeskTap(this, desk);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _lines.Writer.TryComplete();
        await _writing;
    }

    private void Take(in Line line)
    {
        if (!_lines.Writer.TryWrite(line))
            Interlocked.Increment(ref _leftOut);
    }

    private async Task WriteAsync()
    {
        try
        {
            await using (_file)
            {
                while (await _lines.Reader.WaitToReadAsync())
                {
                    while (_lines.Reader.TryRead(out var line))
                        await _file.WriteLineAsync(line.ToString());
                    if (Interlocked.Exchange(ref _leftOut, 0) is var many and > 0)
                        await _file.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{RecordingFormat.Remark} {many} packets were not recorded"));
                    await _file.FlushAsync();
                }
            }
        }
        catch (IOException failed)
        {
            _lines.Writer.TryComplete();
            _complain($"The recording ends here: {failed.Message}");
        }
    }

    private readonly record struct Line(string Desk, double TimeS, string? Sender, byte[] Packet)
    {
        public override string ToString() => Sender is null
            ? string.Create(CultureInfo.InvariantCulture, $"{TimeS:0.000000} {Desk} {RecordingFormat.ToDesk} {Convert.ToHexStringLower(Packet)}")
            : string.Create(CultureInfo.InvariantCulture, $"{TimeS:0.000000} {Desk} {RecordingFormat.FromDesk} {Sender} {Convert.ToHexStringLower(Packet)}");
    }

    private sealed class DeskTap(LinkRecorder recorder, string desk) : IPacketTap
    {
        public void Received(ReadOnlySpan<byte> packet, ReadOnlySpan<byte> sender, double timeS) =>
            recorder.Take(new Line(desk, timeS, new IPAddress(sender).ToString(), packet.ToArray()));

        public void Sent(ReadOnlySpan<byte> packet, double timeS) => recorder.Take(new Line(desk, timeS, null, packet.ToArray()));
    }
}
