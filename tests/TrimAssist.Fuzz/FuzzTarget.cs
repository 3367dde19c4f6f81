namespace TrimAssist.Fuzz;

/// <summary>Takes one input of the fuzzer.</summary>
public delegate void FuzzTarget(ReadOnlySpan<byte> bytes);
