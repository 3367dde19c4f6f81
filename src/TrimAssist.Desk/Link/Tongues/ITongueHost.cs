namespace TrimAssist.Desk.Link.Tongues;

/// <summary>What a tongue needs of the session around it.</summary>
internal interface ITongueHost
{
    /// <summary>Whether meters from this sender count: those of an engine that another one has replaced do not.</summary>
    bool AdmitsMeters(ReadOnlySpan<byte> sender);

    /// <summary>Something could not be used.</summary>
    void OnMalformed(int count, string reason);

    /// <summary>A message that the profile does not know.</summary>
    void OnUnmatched();

    /// <summary>The desk's clock was found to jump.</summary>
    void OnBadClock();
}
