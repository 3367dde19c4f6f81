using System.Text.Json;
using System.Text.Json.Serialization;

namespace TrimAssist.Service.Doctor;

/// <summary>All checkups in order, and how their words are written down.</summary>
internal static class Examination
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    /// <summary>Every checkup there is.</summary>
    public static IReadOnlyList<ICheckup> All(string? certificate, string? key, TimeSpan patience, TimeProvider time) =>
    [
        new PagePortCheckup(), new CertificateCheckup(certificate, key, time), new DiskCheckup(), new JournalCheckup(), new ClockCheckup(time), new DeskPortCheckup(), new MidiCheckup(),
        new SurfaceCheckup(time), new DeskReachCheckup(patience, time),
    ];

    /// <summary>Looks at everything, one after the other: two checkups may want the same port.</summary>
    public static async Task<IReadOnlyList<Diagnosis>> RunAsync(IEnumerable<ICheckup> checkups, Premises premises, CancellationToken cancellationToken)
    {
        List<Diagnosis> all = [];
        foreach (var checkup in checkups)
            all.AddRange(await checkup.LookAsync(premises, cancellationToken));
        return all;
    }

    /// <summary>Writes what was found for a person: the verdict, the subject, the words, and under it the command that mends it.</summary>
    public static void Write(IReadOnlyList<Diagnosis> all, TextWriter to)
    {
        var width = all.Max(one => one.Subject.Length);
        foreach (var one in all)
        {
            to.WriteLine($"{Word(one.Verdict),-8} {one.Subject.PadRight(width)}  {one.Says}");
            if (one.Mend is { } mend)
                to.WriteLine($"{string.Empty,-8} {string.Empty.PadRight(width)}  mend: {mend}");
        }
    }

    /// <summary>Writes what was found as one JSON document.</summary>
    public static void WriteJson(IReadOnlyList<Diagnosis> all, TextWriter to) => to.WriteLine(JsonSerializer.Serialize(all, Json));

    private static string Word(Verdict verdict) => verdict switch
    {
        Verdict.Good => "good",
        Verdict.Warning => "warning",
        _ => "wrong",
    };
}
