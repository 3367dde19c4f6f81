using Serilog;
using TrimAssist.Service.Hosting;
using Xunit;

namespace TrimAssist.Service.Tests.Hosting;

public sealed class LogFileTests : IDisposable
{
    private const int LineLength = 1_000_000;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-log-");

    [Fact]
    public void However_much_is_said_forty_megabytes_are_kept_and_the_last_word_is_among_them()
    {
        var configuration = new LoggerConfiguration();
        LogFile.Add(configuration, Path.Combine(_folder.FullName, "service.log"));
        var line = new string('x', LineLength);
        using (var log = configuration.CreateLogger())
        {
            for (var said = 0; said < 2 * LogFile.MaxFiles * LogFile.MaxBytes / LineLength; said++)
                log.Information("{Line}", line);
            log.Information("The last word");
        }

        var files = _folder.GetFiles().OrderBy(file => file.LastWriteTimeUtc).ThenBy(file => file.Name, StringComparer.Ordinal).ToList();
        Assert.Equal(LogFile.MaxFiles, files.Count);
        // A line is never cut, so that a file may hold one more than fits.
        Assert.InRange(files.Sum(file => file.Length), 0, LogFile.MaxFiles * (LogFile.MaxBytes + LineLength + 100));
        Assert.Contains("The last word", File.ReadAllText(files[^1].FullName), StringComparison.Ordinal);
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
