namespace TrimAssist.Service.Doctor;

/// <summary>Whether the journal can be written, for a whole season: nothing is confirmed that cannot be written down first.</summary>
/// <param name="freeBytes">The free space of the disk that holds a folder.</param>
internal sealed class DiskCheckup(Func<string, long> freeBytes) : ICheckup
{
    private const string Subject = "disk";
    private const long Enough = 1L << 30;
    private const long TooLittle = 100L << 20;

    /// <summary>Looks at the real disk.</summary>
    public DiskCheckup()
        : this(folder => new DriveInfo(folder).AvailableFreeSpace)
    {
    }

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) =>
        Task.FromResult<IReadOnlyList<Diagnosis>>([Look(Path.GetFullPath(premises.DataFolder))]);

    private Diagnosis Look(string folder)
    {
        // A folder that is not there yet is made by the service, inside the nearest one that is.
        var existing = folder;
        while (!Path.Exists(existing) && Path.GetDirectoryName(existing) is { } above)
            existing = above;
        if (File.Exists(existing))
            return new(Subject, Verdict.Wrong, $"The journal cannot be written in {folder}: {existing} is a file.", "trimassist serve --data ANOTHER-FOLDER …");
        try
        {
            var probe = Path.Combine(existing, $".trimassist-doctor-{Guid.NewGuid():N}");
            File.WriteAllBytes(probe, [0]);
            File.Delete(probe);
        }
        catch (Exception failed) when (failed is IOException or UnauthorizedAccessException)
        {
            return new(Subject, Verdict.Wrong, $"The journal cannot be written in {folder}: {failed.Message}", $"sudo install -d -o \"$USER\" {folder}");
        }

        var free = freeBytes(existing);
        var says = $"{free >> 20} MiB are free for the journal in {folder}";
        return free switch
        {
            < TooLittle => new(Subject, Verdict.Wrong, $"{says}: too little for a show.", "trimassist serve --data ANOTHER-FOLDER …"),
            < Enough => new(Subject, Verdict.Warning, $"{says}: enough for a few shows.", "trimassist serve --data ANOTHER-FOLDER …"),
            _ => new(Subject, Verdict.Good, $"{says}."),
        };
    }
}
