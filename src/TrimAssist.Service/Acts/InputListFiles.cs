using TrimAssist.Core.Chain;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Wording;
using TrimAssist.Service.ChainFiles;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Acts;

/// <summary>Reads the input lists that the command line names, and the chains' files that they name.</summary>
/// <param name="desks">The desks, the first one first.</param>
/// <param name="problems">Told what cannot be used; the rest goes on.</param>
internal sealed class InputListFiles(IReadOnlyList<DeskDescription> desks, TextWriter problems)
{
    /// <summary>A list is a page or two; what is larger is another file.</summary>
    private const long MostBytes = 1024 * 1024;

    /// <summary>The running order of every desk that has one, by the desk's id. A list belongs to the first desk unless it names others.</summary>
    /// <exception cref="UsageException">A file cannot be read, nothing in it can be used, or it names a desk that is not there.</exception>
    public IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> Read(IReadOnlyList<string> files) => files
        .SelectMany(file => Read(file, Bytes(file)))
        .GroupBy(one => one.Desk, one => one.Act, StringComparer.Ordinal)
        .ToDictionary(desk => desk.Key, desk => (IReadOnlyList<ListedAct>)[.. desk], StringComparer.Ordinal);

    private IEnumerable<(string Desk, ListedAct Act)> Read(string file, byte[] bytes)
    {
        var name = Path.GetFileNameWithoutExtension(file);
        foreach (var desk in DesksOf(file, InputListReader.Read(bytes, name, desks.Max(one => one.Inputs)).Desks))
        {
            var reading = InputListReader.Read(bytes, name, desk.Inputs);
            if (reading.Act is not { } act)
                throw new UsageException(string.Join(Environment.NewLine, reading.Problems.Select(problem => $"{file}: {problem}").DefaultIfEmpty($"{file}: no row can be used")));
            foreach (var problem in reading.Problems)
                problems.WriteLine($"{file}: {problem}");
            yield return (desk.Id, new(act, Chains(file, reading.Chains)));
        }
    }

    private IEnumerable<DeskDescription> DesksOf(string file, IReadOnlyList<string> named) => named switch
    {
        [] => desks.Take(1),
        ["all"] => desks,
        _ => [.. named.Select(id => desks.FirstOrDefault(desk => string.Equals(desk.Id, id, StringComparison.OrdinalIgnoreCase))
            ?? throw new UsageException($"{file}: there is no desk \"{id}\"; there is {string.Join(", ", desks.Select(desk => desk.Id))}"))],
    };

    private Dictionary<int, SignalChain> Chains(string list, IReadOnlyList<ListedChain> named)
    {
        var chains = new Dictionary<int, SignalChain>();
        foreach (var (input, row, file) in named)
        {
            var read = ChainFileReader.ReadFile(Path.Combine(Path.GetDirectoryName(Path.GetFullPath(list))!, file));
            if (read.Chain is { } chain)
                chains[input] = chain;
            foreach (var problem in read.Errors.Select(error => error.ToString()).Concat(read.Chain is { } told ? ChainDoubts.Of(told) : []))
                problems.WriteLine($"{list}: {new ListProblem(row, ListColumns.Chain, Saying.Plain(problem))}");
        }

        return chains;
    }

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
