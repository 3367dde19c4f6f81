using TrimAssist.Core.Acts;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Acts;

/// <summary>Reads the input lists that the command line names.</summary>
internal static class InputListFiles
{
    /// <summary>A list is a page or two; what is larger is another file.</summary>
    private const long MostBytes = 1024 * 1024;

    /// <summary>The acts in the order of the files. Rows that cannot be used are named and left out.</summary>
    /// <exception cref="UsageException">A file cannot be read, or nothing in it can be used.</exception>
    public static IReadOnlyList<Act> Read(IReadOnlyList<string> files, int deskInputs, TextWriter problems) => [.. files.Select(file =>
    {
        var reading = InputListReader.Read(Bytes(file), Path.GetFileNameWithoutExtension(file), deskInputs);
        if (reading.Act is not { } act)
            throw new UsageException(string.Join(Environment.NewLine, reading.Problems.Select(problem => $"{file}: {problem}").DefaultIfEmpty($"{file}: no row can be used")));
        foreach (var problem in reading.Problems)
            problems.WriteLine($"{file}: {problem}");
        return act;
    })];

    private static byte[] Bytes(string file)
    {
        try
        {
            if (new FileInfo(file) is { Exists: true, Length: > MostBytes })
                throw new UsageException($"{file}: too large for an input list");
            return File.ReadAllBytes(file);
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new UsageException($"{file}: {failed.Message}");
        }
    }
}
