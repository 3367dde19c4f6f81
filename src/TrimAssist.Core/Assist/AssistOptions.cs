using TrimAssist.Core.Acts;
using TrimAssist.Core.Units;

namespace TrimAssist.Core.Assist;

/// <summary>What the engineer chooses for a desk, and what is known from elsewhere.</summary>
/// <param name="Target">Where the loudest show peak should land, unless an input list says otherwise; default −12 dBFS.</param>
public sealed record AssistOptions(Dbfs Target)
{
    private static readonly AllowanceModel NothingLearned = new([], default);

    /// <summary>Target −12 dBFS; nothing learned.</summary>
    public static AssistOptions Default { get; } = new(new Dbfs(-12));

    /// <summary>How this rehearsal room works; <see langword="null"/>, unless asked for, where it is none.</summary>
    public RehearsalOptions? Rehearsal { get; init; }

    /// <summary>What to add for what is held back, by the act's name and its line; common practice where nothing was learned.</summary>
    public Func<string, ActInput, Allowance> AllowanceOf { get; init; } =
        static (act, line) => NothingLearned.For(ShowInput.PlayerKey(act, line), SourceKinds.Of(line.Source));
}
