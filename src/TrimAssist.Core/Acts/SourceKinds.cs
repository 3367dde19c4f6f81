namespace TrimAssist.Core.Acts;

/// <summary>The kinds of sources that learn together, and the words by which input lists call them.</summary>
public static class SourceKinds
{
    /// <summary>The kind of a source that no list named.</summary>
    public const string Unnamed = "unnamed source";

    private static readonly (string Kind, string[] Words)[] Known =
    [
        ("kick", ["kick", "bass drum"]),
        ("snare", ["snare"]),
        ("tom", ["tom"]),
        ("cymbals", ["overhead", "hi-hat", "hihat", "hat", "ride", "cymbal"]),
        ("percussion", ["percussion", "cajon", "conga", "bongo", "djembe", "shaker", "tambourine"]),
        ("acoustic guitar", ["acoustic"]),
        ("double bass", ["double bass", "upright"]),
        ("bass", ["bass"]),
        ("guitar", ["guitar", "gtr", "banjo", "mandolin", "ukulele"]),
        ("keys", ["key", "piano", "organ", "synth", "accordion"]),
        ("strings", ["fiddle", "violin", "viola", "cello", "string", "harp"]),
        ("brass", ["trumpet", "trombone", "horn", "tuba", "brass"]),
        ("woodwind", ["sax", "flute", "clarinet", "oboe", "whistle", "pipe", "woodwind"]),
        ("voice", ["voice", "vocal", "vox", "singer", "choir", "harmony", "speech"]),
    ];

    /// <summary>The kind of a source by its name; an unknown name is a kind of its own.</summary>
    public static string Of(string? source)
    {
        if (string.IsNullOrWhiteSpace(source))
            return Unnamed;
        return Find(source) ?? source.Trim().ToLowerInvariant();
    }

    /// <summary>Whether the source is of a kind that has a name here.</summary>
    public static bool IsKnown(string source) => Find(source) is not null;

    private static string? Find(string source) =>
        Known.FirstOrDefault(known => known.Words.Any(word => source.Contains(word, StringComparison.OrdinalIgnoreCase))).Kind;
}
