using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json.Nodes;
using TrimAssist.Acceptance.Running;
using TrimAssist.TestKit.Desks;
using TrimAssist.TestKit.Network;
using Xunit;

namespace TrimAssist.Acceptance.Access;

/// <summary>The whole program on an address that others can reach, with a certificate of its own making and without one.</summary>
public sealed class HttpsTests : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly UnrulyDesk _desk = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("trimassist-https-");
    private readonly string _port = FreePort.Find(ProtocolType.Tcp).ToString(CultureInfo.InvariantCulture);

    [Fact]
    public async Task Over_https_a_paired_engineer_confirms_and_nobody_else_gets_in()
    {
        using var certificate = MakeCertificate();
        await using var service = Serve($"https://0.0.0.0:{_port}", "--certificate", Path.Combine(_folder.FullName, "own.pem"), "--certificate-key", Path.Combine(_folder.FullName, "own.key"));
        using var http = Client("https", certificate);
        await Pairing.ServesAsync(http, service);
        Assert.Empty((await http.GetFromJsonAsync<JsonNode>("api/health"))!["warnings"]!.AsArray());
        Assert.DoesNotContain(service.Errors, line => line.StartsWith("Warning:", StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Unauthorized, (await http.GetAsync("api/desks")).StatusCode);

        var token = await Pairing.FirstAsync(http, service);
        http.DefaultRequestHeaders.Authorization = new("Bearer", token);
        await TheProgram.EventuallyAsync(
            async () => (await http.GetFromJsonAsync<JsonNode>("api/desks/desk/inputs"))!.AsArray().All(input => input!["muted"] is not null), Patience, () => "never live");
        var patch = await Pairing.PostAsync(http, "api/desks/desk/inputs/1/patch", "{}");
        var proposal = await http.GetFromJsonAsync<JsonNode>($"api/proposals/{patch["proposalId"]}");
        await Pairing.PostAsync(http, $"api/proposals/{proposal!["id"]}/confirm", $$"""{"digest":"{{proposal["digest"]}}"}""");
        await TheProgram.EventuallyAsync(
            async () => (await http.GetFromJsonAsync<JsonNode>($"api/proposals/{proposal["id"]}"))!["state"]!.GetValue<string>() == "applied", Patience, () => "never applied");
        Assert.Equal(["/desk/1/closed 1"], _desk.Writes);

        // A browser's token does not travel without TLS, and nothing is spoken here without it.
        var code = await Pairing.PostAsync(http, "api/pairing", """{"role":"guest"}""");
        using var form = await http.PostAsync("pair", new FormUrlEncodedContent([new("code", code["code"]!.GetValue<string>())]));
        Assert.Contains("; secure", form.Headers.GetValues("Set-Cookie").Single(), StringComparison.OrdinalIgnoreCase);
        using var plain = Client("http", certificate);
        await Assert.ThrowsAnyAsync<HttpRequestException>(() => plain.GetAsync("api/health"));
    }

    [Fact]
    public async Task Without_https_on_an_address_for_others_the_console_and_health_warn()
    {
        await using var service = Serve($"http://0.0.0.0:{_port}");
        using var http = Client("http", null);
        await Pairing.ServesAsync(http, service);

        Assert.Equal("no-https", (await http.GetFromJsonAsync<JsonNode>("api/health"))!["warnings"]!.AsArray().Single()!.GetValue<string>());
        await TheProgram.EventuallyAsync(
            () => Task.FromResult(service.Errors.Any(line => line.StartsWith("Warning: an address that others can reach is served without HTTPS", StringComparison.Ordinal))),
            Patience,
            () => string.Join('\n', service.Errors));
    }

    public async ValueTask DisposeAsync()
    {
        await _desk.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private TheProgram Serve(string url, params string[] more) =>
        TheProgram.TrimAssist(["serve", "--desk", _desk.WriteProfile(_folder.FullName), "--data", _folder.FullName, "--urls", url, .. more]);

    private X509Certificate2 MakeCertificate()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var now = TimeProvider.System.GetUtcNow();
        var names = new SubjectAlternativeNameBuilder();
        names.AddIpAddress(IPAddress.Loopback);
        var request = new CertificateRequest("CN=stage", key, HashAlgorithmName.SHA256) { CertificateExtensions = { names.Build() } };
        var certificate = request.CreateSelfSigned(now.AddDays(-1), now.AddDays(1));
        File.WriteAllText(Path.Combine(_folder.FullName, "own.pem"), certificate.ExportCertificatePem());
        File.WriteAllText(Path.Combine(_folder.FullName, "own.key"), key.ExportPkcs8PrivateKeyPem());
        return certificate;
    }

    // Nobody vouches for the certificate: this very one, and no other, is trusted.
    private HttpClient Client(string scheme, X509Certificate2? trusted)
    {
        var handler = new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false };
        if (trusted is not null)
        {
            handler.SslOptions.CertificateChainPolicy = new X509ChainPolicy
            {
                TrustMode = X509ChainTrustMode.CustomRootTrust,
                CustomTrustStore = { trusted },
                RevocationMode = X509RevocationMode.NoCheck,
            };
        }

        return new HttpClient(handler) { BaseAddress = new Uri($"{scheme}://127.0.0.1:{_port}/") };
    }
}
