using ArchUnitNET.Fluent.Slices;
using ArchUnitNET.Loader;
using ArchUnitNET.xUnitV3;
using Xunit;

namespace TrimAssist.Service.Tests.Architecture;

/// <summary>Folders know one another in one direction only. A namespace is its folder; a failure names the circle, and which type needs which.</summary>
public sealed class FolderTests
{
    [Fact]
    public void No_folders_need_each_other_in_a_circle() => SliceRuleDefinition
        .Slices().Matching("TrimAssist.(**)").Should().BeFreeOfCycles()
        .Check(new ArchLoader().LoadAssemblies([.. ShippedAssemblies.All]).Build());
}
