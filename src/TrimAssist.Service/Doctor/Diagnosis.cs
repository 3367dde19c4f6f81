namespace TrimAssist.Service.Doctor;

/// <summary>How bad it is.</summary>
internal enum Verdict
{
    /// <summary>As it should be.</summary>
    Good,

    /// <summary>A show can run, with a risk that is named.</summary>
    Warning,

    /// <summary>A show would be spoiled.</summary>
    Wrong,
}

/// <summary>What the doctor found about one thing.</summary>
/// <param name="Subject">What was looked at, in one or two words.</param>
/// <param name="Verdict">How bad it is.</param>
/// <param name="Says">What was found, in one or two sentences.</param>
/// <param name="Mend">The command that mends it; <see langword="null"/> where nothing is wrong, or no command can.</param>
internal sealed record Diagnosis(string Subject, Verdict Verdict, string Says, string? Mend = null);
