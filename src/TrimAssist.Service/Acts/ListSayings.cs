using TrimAssist.Core.Wording;

namespace TrimAssist.Service.Acts;

/// <summary>What is wrong with an input list, and what becomes of it.</summary>
internal static class ListSayings
{
    public static Saying ListQuote { get; } = Saying.Of($"has a quotation mark out of place; read as it stands");
    public static Saying ListEmpty { get; } = Saying.Of($"the list is empty");
    public static Saying ListNoInput(string header) => Saying.Of($"the header has no column \"input\"; it should begin {header}");
    public static Saying ListTwice(int input) => Saying.Of($"{input} stands in the list already; the row is left out");
    public static Saying ListNoColumn { get; } = Saying.Of($"is no column of an input list; ignored");
    public static Saying ListSecond(string column) => Saying.Of($"is a second column for {column}; ignored");
    public static Saying ListPair(int input, int other) => Saying.Of($"{input} and {other} do not name each other; no pair");
    public static Saying ListLatin { get; } = Saying.Of($"the list is not UTF-8; read as Latin-1, so look at the names");
    public static Saying ListBlank { get; } = Saying.Of($"is empty; the row is left out");
    public static Saying ListSource(string source) => Saying.Of($"\"{source}\" is no source that this program knows; it learns by itself");
    public static Saying ListLong(int letters) => Saying.Of($"is longer than {letters} letters; cut");
    public static Saying ListInputOut(string text, int most) => Saying.Of($"\"{text}\" is no input of this desk, which has 1 to {most}; the row is left out");
    public static Saying ListInputIgnored(string text, int most) => Saying.Of($"\"{text}\" is no input of this desk, which has 1 to {most}; ignored");
    public static Saying ListLevel(string text, double least, double most) => Saying.Of($"\"{text}\" is no number of dB between {least:0} and {most:0}; ignored");
    public static Saying ListRole(string text, string roles) => Saying.Of($"\"{text}\" is none of {roles}; the row is left out");
    public static Saying ListStart(string text) => Saying.Of($"\"{text}\" is no time of day like 18:30; ignored");
    public static Saying ListChain(string file, int input) => Saying.Of($"{file} is not read here; put the chain to inputs/{input}/chain");
}
