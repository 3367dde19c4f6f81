using TrimAssist.Journal;

namespace TrimAssist.Service.Doctor;

/// <summary>Whether the journal of earlier runs is whole and can be read. Without one there is nothing to look at.</summary>
internal sealed class JournalCheckup : ICheckup
{
    private const string Subject = "journal";

    /// <inheritdoc/>
    public Task<IReadOnlyList<Diagnosis>> LookAsync(Premises premises, CancellationToken cancellationToken) => Task.FromResult<IReadOnlyList<Diagnosis>>(
        new JournalFiles(premises.DataFolder).Exist ? [Look(premises.DataFolder)] : []);

    private static Diagnosis Look(string folder)
    {
        var file = new JournalFiles(folder).Database;
        var startAnew = $"mkdir {folder}/damaged && mv {file}* {folder}/damaged/ && cp YOUR-BACKUP {file}";
        try
        {
            return JournalReview.Of(folder) switch
            {
                { Damage: [var first, ..] } => new(Subject, Verdict.Wrong, $"{file} is damaged: {first}", startAnew),
                { Unread: { Count: > 0 } unread, Lines: var lines } => new(
                    Subject, Verdict.Warning, $"{unread.Count} of {lines} lines cannot be read; a service leaves them out. The first is {unread[0]}", $"trimassist journal check --data {folder}"),
                { Lines: var lines } => new(Subject, Verdict.Good, $"The journal is whole: {lines} lines."),
            };
        }
        catch (JournalOpenException refused)
        {
            return new(Subject, Verdict.Wrong, refused.Message, refused.IsNewer ? "start the newer program again, or put the backup from before it in its place" : startAnew);
        }
    }
}
