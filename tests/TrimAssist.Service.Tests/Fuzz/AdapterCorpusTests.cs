using TrimAssist.Fuzz;
using Xunit;

namespace TrimAssist.Service.Tests.Fuzz;

/// <summary>Every file the fuzzer starts from or once found, and whatever is done to it, stays answered: files from outside, a desk's session, surfaces.</summary>
public sealed class AdapterCorpusTests
{
    private const int Seed = 20260725;
    private const int Rounds = 400;

    public static TheoryData<string> Names => [.. AdapterTargets.Names];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_file_of_the_corpus_and_whatever_is_done_to_it_runs_clean(string name)
    {
        var target = AdapterTargets.Find(name)!;
        var files = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Corpus", name)).Order(StringComparer.Ordinal).Select(File.ReadAllBytes).ToArray();
        Assert.NotEmpty(files);
        var chance = new Random(Seed);
        foreach (var bytes in files.Concat(Enumerable.Range(0, Rounds).Select(_ => Mutation.Of(files, chance))))
        {
            try
            {
                target(bytes);
            }
            catch (Exception fault)
            {
                Assert.Fail($"{name} {Convert.ToHexString(bytes)}: {fault}");
            }
        }
    }
}
