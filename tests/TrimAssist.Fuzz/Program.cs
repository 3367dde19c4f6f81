using SharpFuzz;
using TrimAssist.Fuzz;

// `TrimAssist.Fuzz TARGET` runs under AFL++; `TrimAssist.Fuzz TARGET FILE...` replays files, for a finding or without AFL++.
if (args.Length == 0 || (FuzzTargets.Find(args[0]) ?? AdapterTargets.Find(args[0])) is not { } target)
{
    await Console.Error.WriteLineAsync($"usage: TrimAssist.Fuzz {string.Join('|', [.. FuzzTargets.Names, .. AdapterTargets.Names])} [FILE...]");
    return 2;
}

if (args.Length == 1)
{
    Fuzzer.Run(stream => target(ReadAll(stream)));
    return 0;
}

foreach (var file in args[1..])
    target(await File.ReadAllBytesAsync(file));
return 0;

static byte[] ReadAll(Stream stream)
{
    using var memory = new MemoryStream();
    stream.CopyTo(memory);
    return memory.ToArray();
}
