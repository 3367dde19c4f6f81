using TrimAssist.Core.Desks;

namespace TrimAssist.Service.Surfaces;

/// <summary>The way to one control surface and back. Used by one surface, one call after another; nothing in it waits.</summary>
internal interface ISurfaceLine : IDisposable
{
    /// <summary>Why nothing can be shown or pressed at present, in one sentence; <see langword="null"/> while the way is open.</summary>
    string? Trouble { get; }

    /// <summary>Opens the way, where only this machine is asked.</summary>
    /// <exception cref="Failures.WorkFailedException">This machine refuses it; the message is a sentence for the user.</exception>
    void Open();

    /// <summary>What was pressed since the last call.</summary>
    /// <param name="isSomebodyNew">Whether whoever saw the pictures so far may be gone: nothing counts as shown.</param>
    IReadOnlyList<Press> Presses(out bool isSomebodyNew);

    /// <summary>Sends a picture.</summary>
    /// <param name="picture">What is to be shown.</param>
    /// <param name="link">How the desk's link stands.</param>
    /// <param name="answer">What became of the last press; empty before the first.</param>
    /// <returns>Whether it has left.</returns>
    bool TryShow(SurfacePicture picture, LinkState link, string answer);
}
