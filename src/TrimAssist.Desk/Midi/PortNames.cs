namespace TrimAssist.Desk.Midi;

/// <summary>Finds the port that a name means.</summary>
internal static class PortNames
{
    /// <summary>The index of the port with exactly this name, else of the only one that has it in its own.</summary>
    public static int? Find(IReadOnlyList<string> names, string name)
    {
        int? found = null;
        for (var i = 0; i < names.Count; i++)
        {
            if (string.Equals(names[i], name, StringComparison.Ordinal))
                return i;
        }

        for (var i = 0; i < names.Count; i++)
        {
            if (!names[i].Contains(name, StringComparison.OrdinalIgnoreCase))
                continue;
            if (found is not null)
                return null;
            found = i;
        }

        return found;
    }
}
