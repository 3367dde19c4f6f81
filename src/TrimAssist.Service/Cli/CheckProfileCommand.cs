using System.CommandLine;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;

namespace TrimAssist.Service.Cli;

/// <summary><c>trimassist check-profile FILE</c>: validates a desk profile offline.</summary>
public static class CheckProfileCommand
{
    private const int Good = 0;
    private const int BadInput = 2;

    /// <summary>The command; faults go to standard error with file, line, column and key, and the exit code is 2.</summary>
    public static Command Create()
    {
        var file = new Argument<string>("FILE") { Description = "the desk profile (TOML)" };
        var command = new Command("check-profile", "Validates a desk profile offline.") { file };
        command.SetAction(parsed => Run(parsed.GetValue(file)!, parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error));
        return command;
    }

    internal static int Run(string file, TextWriter output, TextWriter errors)
    {
        var reading = ProfileReader.ReadFile(file);
        foreach (var error in reading.Errors)
            errors.WriteLine(error);
        foreach (var note in reading.Notes)
            errors.WriteLine($"note: {note}");
        if (reading.Profile is not { } profile)
            return BadInput;

        var desk = profile.Description;
        output.WriteLine($"{file}: good. {desk.Name} ({desk.Id}), {desk.Inputs} inputs, {Meters(profile)}.");
        output.WriteLine($"May be changed once confirmed: {Changes(profile)}.");
        return Good;
    }

    private static string Meters(DeskProfile profile) =>
        string.Join(" and ", profile.Meters.Select(m => $"{(m.Quantity == MeterQuantity.Peak ? "peak" : "RMS")} every {m.Traits.FrameS * 1000:0.#} ms"));

    private static string Changes(DeskProfile profile)
    {
        var names = profile.Controls.Where(c => c.Writable).Select(c => c.Kind.ToString().ToLowerInvariant()).ToList();
        return names.Count == 0 ? "nothing" : string.Join(", ", names);
    }
}
