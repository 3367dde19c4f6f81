using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Service.Failures;

namespace TrimAssist.Service.Hosting;

/// <summary>Reads the profiles that a command was given.</summary>
internal static class ProfileFiles
{
    /// <summary>Reads them all.</summary>
    /// <exception cref="UsageException">One of them cannot be used, or two have the same id; all errors are in the message.</exception>
    public static IReadOnlyList<DeskProfile> Read(IReadOnlyList<string> files)
    {
        var read = files.Select(ProfileReader.ReadFile).ToArray();
        var errors = read.SelectMany(one => one.Errors).ToArray();
        if (errors.Length > 0)
            throw new UsageException(string.Join(Environment.NewLine, errors.Select(error => error.ToString())));
        var profiles = read.Select(one => one.Profile!).ToArray();
        return profiles.GroupBy(profile => profile.Id, StringComparer.Ordinal).FirstOrDefault(same => same.Count() > 1) is { } twice
            ? throw new UsageException($"Two profiles have the id \"{twice.Key}\".")
            : profiles;
    }
}
