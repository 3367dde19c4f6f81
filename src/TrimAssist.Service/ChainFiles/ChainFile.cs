using TrimAssist.Core.Chain;
using TrimAssist.Desk.Profiles.Toml;

namespace TrimAssist.Service.ChainFiles;

/// <summary>What came of reading a chain's file: a chain, or what is wrong with the file; never an exception.</summary>
/// <param name="Chain">The chain; <see langword="null"/> where there are errors.</param>
/// <param name="Errors">What is wrong, in the file's order.</param>
/// <param name="CompareOrder">Whether the file asks to compare orders.</param>
/// <param name="TargetIsDbfs">Whether the file gives the target in dBFS.</param>
internal sealed record ChainFile(SignalChain? Chain, IReadOnlyList<ProfileError> Errors, bool CompareOrder, bool TargetIsDbfs)
{
    /// <summary>A file of which nothing can be used.</summary>
    public static ChainFile Unusable(params IReadOnlyList<ProfileError> errors) => new(null, errors, false, false);
}
