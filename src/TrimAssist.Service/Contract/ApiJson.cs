using System.Text.Json;
using System.Text.Json.Serialization;
using TrimAssist.Core.Proposals;

namespace TrimAssist.Service.Contract;

/// <summary>How everything leaves over HTTP: camelCase, enumerations in kebab-case, absent measurements null.</summary>
public static class ApiJson
{
    /// <summary>Sets the rules on an options object.</summary>
    public static void Configure(JsonSerializerOptions options)
    {
        options.TypeInfoResolverChain.Insert(0, ApiJsonContext.Default);
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip;
        options.Converters.Add(new SettingValueJson());
        options.Converters.Add(new SayingJson());
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false));
    }

    /// <summary>The rules, ready to use.</summary>
    public static JsonSerializerOptions Options { get; } = Make();

    private static JsonSerializerOptions Make()
    {
        var options = new JsonSerializerOptions();
        Configure(options);
        options.MakeReadOnly();
        return options;
    }
}

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(IReadOnlyList<DeskReply>))]
[JsonSerializable(typeof(IReadOnlyList<InputReply>))]
[JsonSerializable(typeof(IReadOnlyList<ProposalReply>))]
[JsonSerializable(typeof(IReadOnlyList<AlarmReply>))]
[JsonSerializable(typeof(IReadOnlyList<AlarmGroupReply>))]
[JsonSerializable(typeof(IReadOnlyList<AlarmRatesReply>))]
[JsonSerializable(typeof(PairingRequest))]
[JsonSerializable(typeof(PairRequest))]
[JsonSerializable(typeof(PairingReply))]
[JsonSerializable(typeof(PairedReply))]
[JsonSerializable(typeof(IReadOnlyList<CredentialReply>))]
[JsonSerializable(typeof(IReadOnlyList<ActReply>))]
[JsonSerializable(typeof(ListReply))]
[JsonSerializable(typeof(RecallReply))]
[JsonSerializable(typeof(IReadOnlyList<PlayerReply>))]
[JsonSerializable(typeof(ForgottenReply))]
[JsonSerializable(typeof(ChainReply))]
[JsonSerializable(typeof(CheckReply))]
[JsonSerializable(typeof(PatchReply))]
[JsonSerializable(typeof(PatchRequest))]
[JsonSerializable(typeof(HealthReply))]
[JsonSerializable(typeof(CheckRequest))]
[JsonSerializable(typeof(WatchRequest))]
[JsonSerializable(typeof(ConfirmRequest))]
[JsonSerializable(typeof(ShelveRequest))]
[JsonSerializable(typeof(ProposalEvidence))]
[JsonSerializable(typeof(double))]
[JsonSerializable(typeof(bool))]
internal sealed partial class ApiJsonContext : JsonSerializerContext;
