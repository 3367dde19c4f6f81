using TrimAssist.Core.Acts;
using TrimAssist.Service.Pages.Wording;

namespace TrimAssist.Service.Pages.Order;

/// <summary>The words of the changeover's lines.</summary>
internal static class ChangeoverWords
{
    /// <summary>Where an input of an act stands.</summary>
    public static string Checked(CheckedState state) => Words.Text($"Checked{state}");

    /// <summary>How an input differs from the act before.</summary>
    public static string Differs(LineChange change, ActInput? before) => change switch
    {
        LineChange.New => Words.Text("DiffersNew"),
        LineChange.Other => Words.Filled("DiffersOther", string.Join(", ", new[] { before?.Source ?? before?.Name, before?.Player }.OfType<string>())),
        _ => "",
    };
}
