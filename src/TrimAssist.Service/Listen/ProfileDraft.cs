using System.Globalization;
using System.Text;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Templates;
using TrimAssist.Desk.Profiles.Values;

namespace TrimAssist.Service.Listen;

/// <summary>
/// Writes a profile from what was heard: meters as guessed, everything else as remarks to go by. Names no control, so that nothing could
/// ever be changed through it before somebody has filled it in.
/// </summary>
internal static class ProfileDraft
{
    private const int MostInputs = 1024;
    private const int MostRemarks = 200;

    // What bytes become that are no UTF-8.
    private const char Unreadable = '\uFFFD';

    /// <summary>The draft.</summary>
    public static string Write(WireSurvey survey, int port)
    {
        var families = AddressGroup.Of(survey.Tallies);
        var guesses = families.SelectMany(MeterGuess.In).Where(guess => string.Equals(Safe(guess.Address), guess.Address, StringComparison.Ordinal) && AddressTemplate.Parse(guess.Address, out _) is not null && guess.Inputs is >= 1 and <= MostInputs)
            .OrderByDescending(guess => guess.Scale.LoudestDbfs).ToList();
        var peak = guesses.FirstOrDefault();
        var rms = guesses.Find(guess => guess != peak && guess.Scale.LoudestDbfs < peak!.Scale.LoudestDbfs - 1);
        var text = new StringBuilder();
        Head(text, survey, port, Math.Max(peak?.Inputs ?? 1, rms?.Inputs ?? 1));
        if (peak is null)
            Placeholder(text);
        else
            Meter(text, peak, "peak");
        if (rms is not null)
            Meter(text, rms, "rms");
        Remarks(text, families, guesses.Where(guess => guess != peak && guess != rms));
        return text.ToString();
    }

    private static void Head(StringBuilder text, WireSurvey survey, int port, int inputs)
    {
        var senders = survey.Senders.ToList();
        text.AppendLine("# A draft from what was heard on the wire. Every line is a guess: compare it with the desk's own papers, line by line.");
        text.AppendLine("# trimassist check-profile tells what is wrong with it; docs/profile.md explains every key.");
        text.AppendLine("id = \"draft\"");
        text.AppendLine("name = \"Draft desk\"");
        text.AppendLine(Invariant($"inputs = {inputs}                       # the most that were seen"));
        text.AppendLine();
        text.AppendLine("[connection]");
        text.AppendLine("transport = \"udp\"");
        text.AppendLine(Invariant($"desk = {Quoted(senders.Count > 0 ? senders[0].ToString() : "192.0.2.10:9000")}      # who sent; the desk may take commands on another port"));
        text.AppendLine(Invariant($"listen = \"0.0.0.0:{port}\""));
        foreach (var other in senders.Skip(1).Take(8))
            text.AppendLine(Invariant($"# heard from {other} too"));
        text.AppendLine();
        text.AppendLine("# If the desk sends only to whoever asks for it:");
        text.AppendLine("# [[subscription]]");
        text.AppendLine("# address = \"/…\"");
        text.AppendLine("# renew_s = 5.0");
    }

    private static void Placeholder(StringBuilder text)
    {
        text.AppendLine();
        text.AppendLine("# Nothing that was heard looks like levels. This is only a place to fill in.");
        text.AppendLine("[[meters]]");
        text.AppendLine("address = \"/fill-in/{input}\"");
        text.AppendLine("quantity = \"peak\"");
        text.AppendLine("unit = \"dbfs\"");
        text.AppendLine("frame_ms = 50");
    }

    private static void Meter(StringBuilder text, MeterGuess guess, string quantity)
    {
        text.AppendLine();
        text.AppendLine("[[meters]]");
        text.AppendLine(Invariant($"address = {Quoted(guess.Address)}"));
        text.AppendLine(Invariant($"quantity = \"{quantity}\"                  # the loudest that was heard is taken for the peak, the next for the RMS"));
        text.AppendLine(guess.Scale.Unit == LevelUnit.Dbfs
            ? "unit = \"dbfs\""
            : "unit = \"amplitude\"                 # or \"fraction\" with range_db, if 0 to 1 is the length of a bar");
        if (guess.Argument > 0)
            text.AppendLine(Invariant($"argument = {guess.Argument}"));
        if (guess.Packing != MeterPacking.OneInput)
            text.AppendLine(guess.Packing == MeterPacking.Blob ? "packing = \"blob\"" : "packing = \"arguments\"");
        if (guess.Blob is { } blob)
        {
            text.AppendLine(Invariant($"element = \"{NameOf(blob.Element)}\"               # a guess: compare with the levels on the desk"));
            text.AppendLine(Invariant($"endian = \"{(blob.IsLittle ? "little" : "big")}\""));
            text.AppendLine(Invariant($"skip_bytes = {blob.SkipBytes}"));
        }
        else if (guess is { Packing: MeterPacking.Arguments, Scale: { CountDb: not null } or { CountFull: not null } })
        {
            text.AppendLine("element = \"int32\"");
        }

        if (guess.Scale.CountDb is { } step)
            text.AppendLine(Invariant($"count_db = {step:0.0#######}                 # a guess"));
        if (guess.Scale.CountFull is { } full)
            text.AppendLine(Invariant($"count_full = {full:0}            # a guess"));
        if (guess.Packing != MeterPacking.OneInput)
            text.AppendLine(Invariant($"count = {guess.Inputs}"));
        text.AppendLine(Invariant($"frame_ms = {guess.FrameMs:0}"));
        text.AppendLine("# release_db_per_s = 0           # more where the desk's meter falls back slowly");
        text.AppendLine("# tap = \"converter\"              # where the desk reads it: without this there are warnings and no trims");
        text.AppendLine("# follows_mute = false           # whether a muted input reads silence: likewise");
    }

    private static void Remarks(StringBuilder text, IReadOnlyList<AddressGroup> families, IEnumerable<MeterGuess> others)
    {
        text.AppendLine();
        foreach (var other in others.Take(MostRemarks))
            text.AppendLine(Invariant($"# looks like levels too: {Safe(other.Address)} argument {other.Argument}, every {other.FrameMs:0} ms, {other.Scale.LoudestDbfs:0} dBFS at the loudest"));
        text.AppendLine("# What else was heard. A control has to be spelled out in full before it can be changed:");
        foreach (var family in families.Where(family => !MeterGuess.In(family).Any()).Take(MostRemarks))
            text.AppendLine(Invariant($"#   {Safe(family.Template)} ,{Safe(family.Types)} {Safe(SurveyTable.Values(family))}"));
    }

    /// <summary>A number type as the profile names it.</summary>
    public static string NameOf(MeterElement element) => element switch
    {
        MeterElement.Real32 => "float32",
        MeterElement.Whole16 => "int16",
        _ => "int32",
    };

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static string Quoted(string text) => $"\"{Safe(text).Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";

    // Whatever came from the network must not end a remark or a line.
    private static string Safe(string text) => string.Concat(text.Select(c => char.IsControl(c) || char.IsSurrogate(c) || c == Unreadable ? '?' : c));
}
