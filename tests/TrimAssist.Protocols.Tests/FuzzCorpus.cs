using TrimAssist.Fuzz;

namespace TrimAssist.Protocols.Tests;

/// <summary>Every file the fuzzer starts from or once found stays answered.</summary>
public class FuzzCorpus
{
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
}
