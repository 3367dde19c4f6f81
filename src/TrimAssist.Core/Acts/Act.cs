using TrimAssist.Core.Units;

namespace TrimAssist.Core.Acts;

/// <summary>An act with its input list.</summary>
/// <param name="Name">The act's name: by it the act is found again on another day.</param>
/// <param name="StartsAt">When its show begins, by the local clock; <see langword="null"/> where nobody said.</param>
/// <param name="Inputs">The input list, by input.</param>
public sealed record Act(string Name, TimeOnly? StartsAt, IReadOnlyList<ActInput> Inputs);

/// <summary>One line of an input list.</summary>
/// <param name="Input">The desk input, from 1.</param>
/// <param name="Name">What is written on it.</param>
/// <param name="Source">What it is: an instrument, a voice.</param>
/// <param name="Role">What it is for.</param>
/// <param name="Player">Who plays it; <see langword="null"/> where nobody said.</param>
/// <param name="Pair">The other input of a stereo pair.</param>
/// <param name="Target">Where the show's peak should land, where that differs from the desk's own.</param>
/// <param name="AllowanceDb">What to add for holding back, where the list knows better than the past.</param>
/// <param name="Note">Anything else.</param>
public sealed record ActInput(
    int Input, string? Name, string? Source, SourceRole Role, string? Player, int? Pair, Dbfs? Target, double? AllowanceDb, string? Note);
