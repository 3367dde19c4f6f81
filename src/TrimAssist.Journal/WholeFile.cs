namespace TrimAssist.Journal;

/// <summary>Writes a file so that it appears under its name only when it is whole and on the disk.</summary>
internal static class WholeFile
{
    /// <summary>Writes to a name beside the target, flushes, and renames. An existing target is not overwritten.</summary>
    public static void Write(string target, Action<string> write)
    {
        var part = $"{target}.{Guid.NewGuid():N}.part";
        try
        {
            write(part);
            using (var written = new FileStream(part, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite))
                written.Flush(flushToDisk: true);
            File.Move(part, target, overwrite: false);
        }
        finally
        {
            File.Delete(part);
        }
    }
}
