namespace TrimAssist.Service.Acts;

/// <summary>The columns of an input list, and the other names, English and German, under which they are found: letters and digits count, nothing else.</summary>
internal static class ListColumns
{
    public const string Input = "input";
    public const string Name = "name";
    public const string Source = "source";
    public const string Role = "role";
    public const string Player = "player";
    public const string Pair = "pair";
    public const string Target = "target_dbfs";
    public const string Allowance = "allowance_db";
    public const string Note = "note";
    public const string Chain = "chain";

    private static readonly (string Column, string[] Names)[] Known =
    [
        (Input, ["input", "inputs", "in", "ch", "channel", "no", "number", "inputno", "inputnumber", "eingang", "kanal", "nr"]),
        (Name, ["name", "label", "title", "bezeichnung"]),
        (Source, ["source", "instrument", "kind", "quelle"]),
        (Role, ["role", "use", "rolle"]),
        (Player, ["player", "musician", "performer", "who", "spieler", "musiker"]),
        (Pair, ["pair", "pairedwith", "stereo", "link", "linked", "paar"]),
        (Target, ["targetdbfs", "target", "zieldbfs", "ziel"]),
        (Allowance, ["allowancedb", "allowance", "zuschlagdb", "zuschlag"]),
        (Chain, ["chain", "chainfile", "kette"]),
        (Note, ["note", "notes", "remark", "remarks", "comment", "bemerkung", "notiz"]),
    ];

    /// <summary>The column that a header means; <see langword="null"/> for one that this program does not know.</summary>
    public static string? Of(string header)
    {
        var spelled = string.Concat(header.Where(char.IsLetterOrDigit));
        return Known.FirstOrDefault(column => column.Names.Contains(spelled, StringComparer.OrdinalIgnoreCase)).Column;
    }
}
