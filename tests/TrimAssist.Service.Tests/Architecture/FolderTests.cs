using ArchUnitNET.Fluent.Slices;
using ArchUnitNET.Loader;
using ArchUnitNET.xUnitV3;
using Xunit;

namespace TrimAssist.Service.Tests.Architecture;

/// <summary>Folders know one another in one direction only. A namespace is its folder; a failure names the circle, and which type needs which.</summary>
public sealed class FolderTests
{
    // The page's own folders still need one another: left out until they are taken apart.
    private const string Pages = "TrimAssist.Service.Pages";

    [Fact]
    public void No_folders_need_each_other_in_a_circle()
    {
        var loader = new ArchLoader().LoadAssemblies([.. ShippedAssemblies.All.Where(one => one != ShippedAssemblies.Service)]);
        foreach (var folder in ShippedAssemblies.Service.GetTypes().Select(type => type.Namespace).OfType<string>().Distinct().Where(IsNoPage))
            loader.LoadNamespacesWithinAssembly(ShippedAssemblies.Service, folder);
        SliceRuleDefinition.Slices().Matching("TrimAssist.(**)").Should().BeFreeOfCycles().Check(loader.Build());
    }

    private static bool IsNoPage(string folder) => !folder.StartsWith(Pages, StringComparison.Ordinal);
}
