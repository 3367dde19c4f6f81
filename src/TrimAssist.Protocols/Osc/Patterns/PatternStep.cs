namespace TrimAssist.Protocols.Osc.Patterns;

/// <summary>What one byte of a pattern stands for.</summary>
internal enum PatternStep : byte
{
    /// <summary>Itself.</summary>
    Literal,

    /// <summary><c>?</c>: one character other than a slash.</summary>
    AnyCharacter,

    /// <summary><c>*</c>: any characters other than a slash.</summary>
    AnyText,

    /// <summary><c>[</c>: one character of a set.</summary>
    Set,

    /// <summary><c>{</c>: one of several texts.</summary>
    Alternatives,

    /// <summary><c>,</c> or <c>}</c> in braces: the end of one text.</summary>
    AlternativeEnd,

    /// <summary>The first slash of <c>//</c>.</summary>
    AnyDepth,

    /// <summary>The second slash of <c>//</c>: between the parts it stands for.</summary>
    AnyDepthRest,
}
