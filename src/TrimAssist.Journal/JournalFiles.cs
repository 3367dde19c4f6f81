namespace TrimAssist.Journal;

/// <summary>The files of a journal in its data folder.</summary>
/// <param name="Folder">The data folder.</param>
public readonly record struct JournalFiles(string Folder)
{
    /// <summary>The entries.</summary>
    public string Database => Path.Combine(Folder, "journal.db");

    /// <summary>Held by the one process that writes; empty, and left in place.</summary>
    public string Lock => Path.Combine(Folder, "journal.lock");

    /// <summary>What is written and not yet folded into <see cref="Database"/>; belongs to it and must be copied with it.</summary>
    internal string WriteAheadLog => Database + "-wal";

    /// <summary>A renewed journal on its way to become <see cref="Database"/>.</summary>
    internal string Next => Path.Combine(Folder, "journal.next.db");

    /// <summary>Whether there is a journal in the folder.</summary>
    public bool Exist => File.Exists(Database);
}
