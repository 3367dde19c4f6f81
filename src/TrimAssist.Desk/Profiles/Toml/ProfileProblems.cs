namespace TrimAssist.Desk.Profiles.Toml;

/// <summary>Collects what is wrong with one profile, or another TOML document, and what it leaves out; bounded, since a wrong file can be wrong everywhere.</summary>
internal sealed class ProfileProblems(string file, string document = "profile")
{
    private const int Limit = 100;
    private readonly List<ProfileError> _errors = [];
    private readonly List<ProfileError> _notes = [];

    /// <summary>The file's name as it was given.</summary>
    public string File { get; } = file;

    /// <summary>What the file is, in one word.</summary>
    public string Document { get; } = document;

    /// <summary>Whether the profile has to be refused.</summary>
    public bool HasErrors => _errors.Count > 0;

    /// <summary>The errors in the file's order.</summary>
    public IReadOnlyList<ProfileError> Errors => Sorted(_errors);

    /// <summary>The notes in the file's order.</summary>
    public IReadOnlyList<ProfileError> Notes => Sorted(_notes);

    /// <summary>A reason to refuse the profile.</summary>
    public void Error(int line, int column, string key, string message) => Add(_errors, new(File, line, column, key, message));

    /// <summary>A reason to refuse the profile, at a value.</summary>
    public void Error(TomlNode node, string message) => Error(node.Line, node.Column, node.Path, message);

    /// <summary>Something the profile leaves out, and what follows.</summary>
    public void Note(TomlNode node, string key, string message) =>
        Add(_notes, new(File, node.Line, node.Column, TomlKey.Join(node.Path, key), message));

    private static void Add(List<ProfileError> list, ProfileError problem)
    {
        if (list.Count < Limit && !list.Contains(problem))
            list.Add(problem);
    }

    private static ProfileError[] Sorted(List<ProfileError> list) => [.. list.OrderBy(e => e.Line).ThenBy(e => e.Column)];
}
