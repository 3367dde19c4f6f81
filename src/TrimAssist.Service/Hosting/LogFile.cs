using System.Globalization;
using Serilog;

namespace TrimAssist.Service.Hosting;

/// <summary>The log on a disk that a season of shows must not fill.</summary>
internal static class LogFile
{
    /// <summary>A file is followed by the next when it is this large.</summary>
    public const int MaxBytes = 8_000_000;

    /// <summary>So many are kept, the present one among them.</summary>
    public const int MaxFiles = 5;

    /// <summary>Has a log written to a file too, and to those that follow it.</summary>
    public static void Add(LoggerConfiguration log, string file) =>
        log.WriteTo.File(file, rollOnFileSizeLimit: true, fileSizeLimitBytes: MaxBytes, retainedFileCountLimit: MaxFiles, formatProvider: CultureInfo.InvariantCulture);
}
