using TrimAssist.Fuzz;

namespace TrimAssist.Protocols.Tests;

/// <summary>Every file the fuzzer starts from or once found stays answered.</summary>
public class FuzzCorpus
{
    private const int Seed = 20260725;
    private const int Rounds = 20_000;
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Corpus");

    [Fact]
    public void Every_file_of_every_target_runs_clean()
    {
        foreach (var name in FuzzTargets.Names)
        {
            var target = FuzzTargets.Find(name);
            Assert.NotNull(target);
            var files = Directory.GetFiles(Path.Combine(Folder, name));
            Assert.NotEmpty(files);
            foreach (var file in files)
                target(File.ReadAllBytes(file));
        }
    }

    [Fact]
    public void Whatever_is_done_to_a_file_of_the_corpus_its_target_runs_clean()
    {
        foreach (var name in FuzzTargets.Names)
        {
            var target = FuzzTargets.Find(name)!;
            var files = Directory.GetFiles(Path.Combine(Folder, name)).Order(StringComparer.Ordinal).Select(File.ReadAllBytes).ToArray();
            var chance = new Random(Seed);
            for (var round = 0; round < Rounds; round++)
            {
                var bytes = Mutation.Of(files, chance);
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
}
