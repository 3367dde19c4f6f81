using System.Globalization;
using TrimAssist.Service.Security;

namespace TrimAssist.Service.Pages.Wording;

// Words of the view that pairs devices.
internal static partial class Words
{
    public static string PairTitle => Text();
    public static string PairName => Text();
    public static string PairNameLike => Text();
    public static string PairRole => Text();
    public static string PairShow => Text();
    public static string PairOpen => Text();
    public static string Paired => Text();
    public static string PairedNone => Text();
    public static string PairedAll => Text();
    public static string Revoke => Text();
    public static string RevokeSure => Text();

    public static string RevokeUnwritten => Text();

    public static string PairThis => Text();
    public static string PairAsk => Text();
    public static string PairCode => Text();
    public static string PairDo => Text();

    /// <summary>Why a code typed was refused, by the refusal's code; <see langword="null"/> where none was.</summary>
    public static string? PairRefused(string? code) => code switch
    {
        null => null,
        "code-missing" or "wrong-code" => Text("PairWrong"),
        "too-many-attempts" => Text("PairTooMany"),
        _ => Text("PairFailed"),
    };

    public static string Role(Role role) => Text($"Role{role}");

    /// <summary>What a role allows.</summary>
    public static string RoleMeans(Role role) => Text($"Role{role}Means");

    public static string PairInputs(bool needed) => Text(needed ? "PairInputsNeeded" : "PairInputsMay");

    /// <summary>What to do with a code.</summary>
    public static string PairHow(string address, string name, TimeSpan left) => Filled("PairHowText", address, name, (int)left.TotalMinutes, left.Seconds);

    public static string PairedInputs(IReadOnlyList<int> inputs) => Filled("PairedInputsText", string.Join(", ", inputs));

    public static string PairedSince(DateTimeOffset time) => Filled("PairedSinceText", time.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture));
}
