using System.Reflection;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Service.Loops;
using Xunit;

namespace TrimAssist.Service.Tests.Architecture;

/// <summary>The rules of the house that the compiler does not hold.</summary>
public sealed class ProjectTests
{
    public static TheoryData<string, string[]> Knows => new()
    {
        { "TrimAssist.Core", [] },
        { "TrimAssist.Protocols", [] },
        { "TrimAssist.Audio", ["TrimAssist.Core"] },
        { "TrimAssist.Desk", ["TrimAssist.Core", "TrimAssist.Protocols"] },
        { "TrimAssist.Journal", ["TrimAssist.Core"] },
        { "TrimAssist.DemoDesk", ["TrimAssist.Protocols", "TrimAssist.Audio"] },
    };

    [Theory]
    [MemberData(nameof(Knows))]
    public void A_project_knows_only_whom_it_may(string project, string[] allowed)
    {
        var assembly = ShippedAssemblies.All.Single(one => one.GetName().Name == project);
        var known = assembly.GetReferencedAssemblies().Select(one => one.Name!).Where(name => name.StartsWith("TrimAssist.", StringComparison.Ordinal));
        Assert.Subset(allowed.ToHashSet(), known.ToHashSet());
    }

    [Fact]
    public void The_pure_projects_reference_only_the_base_class_library()
    {
        foreach (var pure in new[] { ShippedAssemblies.Core, ShippedAssemblies.Protocols })
            Assert.All(pure.GetReferencedAssemblies(), one => Assert.StartsWith("System.", one.Name, StringComparison.Ordinal));
    }

    [Fact]
    public void Exactly_one_writer_to_a_desk_is_shipped() =>
        Assert.Single(ShippedAssemblies.All.SelectMany(one => one.GetTypes()), type => type is { IsClass: true } && type.IsAssignableTo(typeof(IDeskWriter)));

    [Fact]
    public void A_permission_cannot_be_made_outside_the_core() =>
        Assert.All(typeof(ConfirmedChange).GetConstructors(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic), maker =>
            Assert.True(maker.IsAssembly && typeof(ConfirmedChange).IsSealed));

    [Fact]
    public void No_setting_reaches_the_gate_and_its_limits_are_constants()
    {
        Assert.Equal([typeof(ProposalBook)], typeof(ConfirmationGate).GetConstructors().Single().GetParameters().Select(one => one.ParameterType));
        Assert.DoesNotContain(
            typeof(GateKeeper).GetConstructors().Single().GetParameters(), one => one.ParameterType.Name.EndsWith("Options", StringComparison.Ordinal) || one.ParameterType == typeof(bool));
        Assert.Equal(
            ["Acknowledge", "By", "Digest", "Id", "Limits", "PictureAge"],
            typeof(Confirmation).GetProperties(BindingFlags.Instance | BindingFlags.Public).Select(one => one.Name).Order(StringComparer.Ordinal));
        var rules = ShippedAssemblies.Core.GetTypes().Where(type => type.Namespace is "TrimAssist.Core.Gate" or "TrimAssist.Core.Proposals").ToList();
        const BindingFlags Static = BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;
        Assert.All(rules.SelectMany(type => type.GetFields(Static)).Where(field => !field.IsDefined(typeof(System.Runtime.CompilerServices.CompilerGeneratedAttribute)) && !field.DeclaringType!.Name.StartsWith('<')), field =>
            Assert.True(field.IsLiteral || field.IsInitOnly, $"{field.DeclaringType!.Name}.{field.Name} can be set"));
        Assert.All(rules.SelectMany(type => type.GetProperties(Static)), property => Assert.False(property.CanWrite, $"{property.DeclaringType!.Name}.{property.Name} can be set"));
    }

    [Fact]
    public void The_core_opens_its_inside_to_its_own_tests_only() =>
        Assert.Equal(
            ["TrimAssist.Core.Tests"],
            ShippedAssemblies.Core.GetCustomAttributes<System.Runtime.CompilerServices.InternalsVisibleToAttribute>().Select(one => one.AssemblyName).Distinct());
}
