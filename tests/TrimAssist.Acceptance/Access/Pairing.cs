using System.Net.Http.Json;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using TrimAssist.Acceptance.Running;
using Xunit;

namespace TrimAssist.Acceptance.Access;

/// <summary>The way of a device to a service on an address that others can reach: from the first code on its console to a credential.</summary>
internal static partial class Pairing
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    /// <summary>Waits until the service serves.</summary>
    public static Task ServesAsync(HttpClient http, TheProgram service) => TheProgram.EventuallyAsync(
        async () =>
        {
            try
            {
                return (await http.GetAsync("api/health")).IsSuccessStatusCode;
            }
            catch (HttpRequestException)
            {
                return false;
            }
        },
        Patience,
        () => string.Join('\n', service.Errors));

    /// <summary>Pairs the engineer's device: the operator reads the first code on the console. Answers the credential's token.</summary>
    public static async Task<string> FirstAsync(HttpClient http, TheProgram service)
    {
        string? code = null;
        await TheProgram.EventuallyAsync(
            () => Task.FromResult((code = service.Errors.Select(line => TheCode().Match(line)).FirstOrDefault(found => found.Success)?.Groups["code"].Value) is not null),
            Patience,
            () => string.Join('\n', service.Errors));
        return (await PostAsync(http, "pair", $$"""{"code":"{{code}}"}"""))["token"]!.GetValue<string>();
    }

    /// <summary>Posts what must be taken.</summary>
    public static async Task<JsonNode> PostAsync(HttpClient http, string path, string body)
    {
        using var answer = await http.PostAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return (await answer.Content.ReadFromJsonAsync<JsonNode>())!;
    }

    [GeneratedRegex("type (?<code>[0-9A-Z]{8})", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex TheCode();
}
