namespace TrimAssist.Audio.Wav;

/// <summary>Why a file could not be read as a recording.</summary>
public enum WavFault
{
    /// <summary>The system does not hand the file out: missing, forbidden, a folder, a broken disk.</summary>
    Unreadable,

    /// <summary>The file has no bytes.</summary>
    Empty,

    /// <summary>The bytes are not a WAV file.</summary>
    NotWav,

    /// <summary>The file ends before its first sample.</summary>
    Truncated,

    /// <summary>The header is whole, but there is not a single sample.</summary>
    NoSamples,

    /// <summary>A WAV file whose kind of samples is not read here.</summary>
    Unsupported,
}

/// <summary>A recording that could not be read, and why.</summary>
/// <param name="Fault">The fault, for programs.</param>
/// <param name="Reason">One sentence for the user; it does not repeat the file's name.</param>
public sealed record WavError(WavFault Fault, string Reason);
