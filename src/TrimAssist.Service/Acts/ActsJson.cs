using System.Text.Json.Serialization;
using TrimAssist.Core.Acts;

namespace TrimAssist.Service.Acts;

/// <summary>The body of an act's coming on, in the journal.</summary>
internal sealed record ActBody(Act Act, DateTimeOffset At);

/// <summary>The same, of which only the act's name is read, and when.</summary>
internal sealed record NamedActBody(NamedAct Act, DateTimeOffset? At);

/// <summary>An act, of which only the name is read.</summary>
internal sealed record NamedAct(string Name);

/// <summary>The body of an act's going off, in the journal.</summary>
internal sealed record ActEndedBody(string Act, DateTimeOffset At);

/// <summary>The body of an input list, in the journal.</summary>
internal sealed record ListBody(Act Act);

/// <summary>The body of a player's being forgotten, in the journal.</summary>
internal sealed record PlayerBody(string Player);

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true)]
[JsonSerializable(typeof(ActBody))]
[JsonSerializable(typeof(NamedActBody))]
[JsonSerializable(typeof(ActEndedBody))]
[JsonSerializable(typeof(ListBody))]
[JsonSerializable(typeof(PlayerBody))]
[JsonSerializable(typeof(ShowInput))]
internal sealed partial class ActsJson : JsonSerializerContext;
