using System.Buffers;
using System.Text;
using TrimAssist.Desk.Profiles.Safety;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Desk.Profiles.Reading;

/// <summary>Reads and validates desk profiles. A wrong profile is an answer, never an exception.</summary>
public static class ProfileReader
{
    private const int LargestFile = 256 * 1024;
    private static readonly SearchValues<char> InIds = SearchValues.Create("abcdefghijklmnopqrstuvwxyz0123456789-");

    /// <summary>The most inputs a desk may have.</summary>
    public const int MostInputs = 1024;

    /// <summary>Reads a profile from a file; a file that cannot be read is an error at line 1.</summary>
    public static ProfileReading ReadFile(string path)
    {
        try
        {
            var file = new FileInfo(path);
            if (file.Exists && file.Length > LargestFile)
                return Unreadable(path, $"is larger than {LargestFile / 1024} KiB: this is no profile");
            return Read(new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(File.ReadAllBytes(path)), path);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Unreadable(path, fault is DecoderFallbackException ? "is not UTF-8 text" : fault.Message);
        }
    }

    /// <summary>Reads a profile from its text.</summary>
    /// <param name="text">The TOML text.</param>
    /// <param name="file">The name to put in front of complaints.</param>
    public static ProfileReading Read(string text, string file)
    {
        if (text.Length > LargestFile)
            return Unreadable(file, $"is larger than {LargestFile / 1024} KiB: this is no profile");

        var problems = new ProfileProblems(file);
        var root = TomlTree.Read(text.TrimStart('\uFEFF'), problems);
        var profile = problems.HasErrors ? null : ReadRoot(new(root, problems));
        return new(problems.HasErrors ? null : profile! with { SourceText = text }, problems.Errors, problems.Notes);
    }

    private static ProfileReading Unreadable(string file, string message) => new(null, [new(file, 1, 1, string.Empty, message)], []);

    private static DeskProfile? ReadRoot(TableReader root)
    {
        var id = root.RequiredText("id", "a short name from a-z, 0-9 and -, used in URLs");
        if (id is not null && (id.Length > 40 || id.AsSpan().ContainsAnyExcept(InIds)))
            root.Problems.Error(root.Table.Entries["id"].Value, "may hold a-z, 0-9 and - only, 40 characters at most");
        var name = root.Text("name") ?? id;
        var inputs = root.Required("inputs", "how many inputs the desk has") is { } node ? root.AsWhole(node, 1, MostInputs) : null;

        var connection = ConnectionReader.Read(root);
        var context = new ProfileContext(connection?.Transport ?? DeskTransportKind.Udp, inputs ?? MostInputs);
        var subscriptions = SubscriptionReader.Read(root, context);
        var meters = MeterReader.Read(root, context);
        var overloads = MeterReader.ReadOverloads(root, context);
        var controls = ControlsReader.Read(root, context);
        root.RefuseUnknown();
        if (root.Problems.HasErrors || connection is null || id is null || name is null)
            return null;

        var profile = new DeskProfile
        {
            Id = id,
            Name = name,
            Inputs = context.Inputs,
            Connection = connection,
            Subscriptions = subscriptions,
            Meters = meters,
            Overloads = overloads,
            Controls = controls.Controls,
            FixedPairs = controls.FixedPairs,
            LinkIsFlag = controls.LinkIsFlag,
            Description = DescriptionMaker.Make(id, name, context.Inputs, meters, controls, root),
        };
        ProfileSafety.Check(profile, root);
        return profile;
    }
}
