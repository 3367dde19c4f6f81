using TrimAssist.Core.Acts;
using TrimAssist.Core.Chain;

namespace TrimAssist.Service.Acts;

/// <summary>An act as its list has it, with the chains that the list names.</summary>
/// <param name="Act">The act.</param>
/// <param name="Chains">The chains by input.</param>
internal sealed record ListedAct(Act Act, IReadOnlyDictionary<int, SignalChain> Chains);

/// <summary>A cell of a list that names a chain's file.</summary>
/// <param name="Input">The input.</param>
/// <param name="Row">The list's row.</param>
/// <param name="File">The file as the list names it.</param>
internal sealed record ListedChain(int Input, int Row, string File);
