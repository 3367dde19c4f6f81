using System.Text.Json;
using System.Text.RegularExpressions;
using TrimAssist.Core.Journal;
using TrimAssist.Service.Contract;
using TrimAssist.Service.JournalLines;

namespace TrimAssist.Service.Loops;

/// <summary>The lines about confirmations and sends, as they are read.</summary>
internal static partial class GateLines
{
    private static readonly JsonSerializerOptions Rules = LineRules.StricterThan(GateJournalJson.Lines.Options);

    /// <summary>A proposal was confirmed.</summary>
    public static LineForm<ConfirmedBody> Confirmed { get; } = new(
        Rules, static body => body.Shown is { } shown ? ReplyLines.WrongWith(shown) : null);

    /// <summary>A proposal was confirmed: who and when, where what was shown cannot be read.</summary>
    public static LineForm<ConfirmedAloneBody> ConfirmedAlone { get; } = new(Rules);

    /// <summary>A confirmed change was about to be sent.</summary>
    public static LineForm<SendingBody> Sending { get; } = new(Rules);

    /// <summary>Every id that the text of a line names: of a line that cannot be read, the proposal is one of them.</summary>
    public static IReadOnlyList<Guid> IdsIn(NewEntry fact) => [.. Id().Matches(fact.Body).Select(found => Guid.Parse(found.ValueSpan))];

    [GeneratedRegex("[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Id();
}
