using TrimAssist.Core.Desks;
using TrimAssist.Core.Proposals;
using Xunit;

namespace TrimAssist.Core.Tests.Proposals;

public sealed class ProposalDigestTests
{
    private static readonly Guid Id = new("6f2b7d3e-1111-4222-8333-944455556666");

    public static TheoryData<string, string> OtherDigests => new()
    {
        { "id", Of(id: Guid.Empty) },
        { "desk", Of(desk: "other") },
        { "inputs", Of(inputs: [1]) },
        { "order of inputs", Of(inputs: [2, 1]) },
        { "socket", Of(socket: "A2") },
        { "no socket", Of(socket: null) },
        { "kind", Of(kind: ProposalKind.Pad) },
        { "from", Of(from: SettingValue.Gain(20.1)) },
        { "to", Of(to: SettingValue.Gain(13.9)) },
        { "switch", Of(to: SettingValue.Switch(true)) },
        { "step", Of(step: 2) },
    };

    [Theory]
    [MemberData(nameof(OtherDigests))]
    public void Every_part_of_what_was_shown_is_in_the_digest(string part, string other) => Assert.True(Of() != other, part);

    [Fact]
    public void The_same_proposal_has_the_same_digest() => Assert.Equal(Of(), Of());

    // Written one after the other, or with a mark between them, each pair would spell the same text.
    public static TheoryData<string, string> Alike => new()
    {
        { Of(desk: "a1", inputs: [2]), Of(desk: "a", inputs: [12]) },
        { Of(desk: "a;1", inputs: [2], socket: null), Of(desk: "a", inputs: [1], socket: "2;") },
        { Of(desk: "a;1:1", inputs: [1]), Of(desk: "a", inputs: [1, 1]) },
    };

    [Theory]
    [MemberData(nameof(Alike))]
    public void Parts_cannot_run_into_each_other(string one, string other) => Assert.NotEqual(one, other);

    private static string Of(
        Guid? id = null, string desk = "demo", IReadOnlyList<int>? inputs = null, string? socket = "A1", ProposalKind kind = ProposalKind.Trim,
        SettingValue? from = null, SettingValue? to = null, int step = 1) =>
        ProposalDigest.Of(id ?? Id, desk, inputs ?? [1, 2], socket, kind, from ?? SettingValue.Gain(20), to ?? SettingValue.Gain(14), step);
}
