using TrimAssist.Core.Desks;
using TrimAssist.Core.Meters;
using TrimAssist.Service.Acts;
using TrimAssist.Service.Failures;
using TrimAssist.Service.Tests.Journal;
using Xunit;

namespace TrimAssist.Service.Tests.Acts;

/// <summary>The lists of the command line: which desk they are for, and the chains that they name.</summary>
public sealed class InputListFilesTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly StringWriter _problems = new();

    public void Dispose()
    {
        _folder.Dispose();
        _problems.Dispose();
    }

    [Fact]
    public void A_list_is_for_the_first_desk_unless_it_names_others_or_all()
    {
        var acts = Read(
            List("plain", "input\n1\n"), List("second", "# desk: STAGE-2\ninput\n1\n"), List("both", "# desk: stage-2, stage-1\ninput\n1\n"), List("everywhere", "# desk: all\ninput\n1\n30\n"));

        Assert.Equal(["plain", "both", "everywhere"], acts["stage-1"].Select(one => one.Act.Name));
        Assert.Equal(["second", "both", "everywhere"], acts["stage-2"].Select(one => one.Act.Name));
        // The first desk has 24 inputs, the second 48.
        Assert.Equal([1, 2], [acts["stage-1"][^1].Act.Inputs.Count, acts["stage-2"][^1].Act.Inputs.Count]);
        Assert.Contains("everywhere.csv: row 4, column input: \"30\" is no input of this desk", _problems.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_desk_that_is_not_there_is_told_with_those_that_are() =>
        Assert.Contains("there is no desk \"stage-3\"; there is stage-1, stage-2", Assert.Throws<UsageException>(() => Read(List("a", "# desk: stage-3\ninput\n1\n"))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_list_may_name_a_chain_beside_it_and_what_is_wrong_with_one_is_told_and_the_rest_goes_on()
    {
        const string Stage = "\n[[stage]]\nname = \"pedal\"\ngain_db = [0, 20]\nmax_out_dbu = ";
        File.WriteAllText(Path.Combine(_folder.Path, "good.toml"), "source_dbu = -30.0\ntarget_dbu = -20.0" + Stage + "10.0");
        File.WriteAllText(Path.Combine(_folder.Path, "colliding.toml"), "source_dbu = -30.0\ntarget_dbu = -20.0" + Stage + "-40.0");
        File.WriteAllText(Path.Combine(_folder.Path, "bad.toml"), "source_dbu = \"loud\"");

        var act = Read(List("a", "input,name,chain\n1,Bass,good.toml\n2,Keys,missing.toml\n3,Harp,bad.toml\n4,Lute,colliding.toml\n"))["stage-1"][0];

        Assert.Equal([1, 2, 3, 4], act.Act.Inputs.Select(line => line.Input));
        Assert.Equal([1, 4], act.Chains.Keys.Order());
        var told = _problems.ToString();
        Assert.Contains("row 3, column chain:", told, StringComparison.Ordinal);
        Assert.Contains("source_dbu", told, StringComparison.Ordinal);
        Assert.Contains("row 5, column chain: no setting keeps every limit", told, StringComparison.Ordinal);
        Assert.DoesNotContain("row 2,", told, StringComparison.Ordinal);
    }

    private IReadOnlyDictionary<string, IReadOnlyList<ListedAct>> Read(params string[] files) =>
        new InputListFiles([Desk("stage-1", 24), Desk("stage-2", 48)], _problems).Read(files);

    private string List(string name, string text)
    {
        var file = Path.Combine(_folder.Path, name + ".csv");
        File.WriteAllText(file, text);
        return file;
    }

    private static DeskDescription Desk(string id, int inputs) => new() { Id = id, Name = id, Inputs = inputs, Meter = new MeterTraits(0.05) };
}
