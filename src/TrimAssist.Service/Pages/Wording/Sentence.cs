namespace TrimAssist.Service.Pages.Wording;

/// <summary>A sentence as it is shown.</summary>
/// <param name="Text">Its words.</param>
/// <param name="Lang">Their language where it is not the page's, for screen readers.</param>
public readonly record struct Sentence(string Text, string? Lang);
