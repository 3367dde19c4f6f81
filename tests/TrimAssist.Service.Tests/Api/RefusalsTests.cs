using System.Net.Http.Headers;
using System.Text;
using Xunit;

namespace TrimAssist.Service.Tests.Api;

/// <summary>What is refused before anybody decides anything: strangers, nonsense, too much. Every refusal is a problem document with a code.</summary>
public sealed class RefusalsTests(ApiStage stage) : IClassFixture<ApiStage>
{
    private const string NoSuchId = "01980000-0000-7000-8000-000000000000";

    [Theory]
    [InlineData("api/desks/elsewhere")]
    [InlineData("api/desks/elsewhere/inputs")]
    [InlineData("api/checks/" + NoSuchId)]
    [InlineData("api/proposals/" + NoSuchId)]
    [InlineData("api/proposals/not-an-id")]
    [InlineData("api/nothing/here")]
    public async Task What_is_not_there_is_404(string path) =>
        await ApiStage.ProblemAsync(await stage.Http.GetAsync(path, TestContext.Current.CancellationToken), 404, "not-found");

    [Theory]
    [InlineData("api/desks/elsewhere/checks", "{}")]
    [InlineData("api/desks/elsewhere/watch", """{"on":true}""")]
    [InlineData("api/checks/" + NoSuchId + "/finish", null)]
    [InlineData("api/proposals/" + NoSuchId + "/confirm", """{"digest":"00"}""")]
    [InlineData("api/proposals/" + NoSuchId + "/decline", null)]
    [InlineData("api/alarms/" + NoSuchId + "/acknowledge", null)]
    [InlineData("api/alarms/" + NoSuchId + "/shelve", """{"minutes":5}""")]
    public async Task Acting_on_what_is_not_there_is_404(string path, string? body) =>
        await ApiStage.ProblemAsync(await stage.SendAsync(path, body), 404, "not-found");

    [Theory]
    [InlineData("{\"inputs\":[1")]
    [InlineData("{\"inputs\":\"all\"}")]
    [InlineData("{\"inputs\":[1.5]}")]
    [InlineData("[]")]
    [InlineData("\u0000")]
    public async Task Malformed_JSON_is_400(string body) =>
        await ApiStage.ProblemAsync(await stage.SendAsync("api/desks/bench/checks", body), 400, "bad-request");

    [Fact]
    public async Task A_body_that_is_not_JSON_is_415()
    {
        using var form = new StringContent("on=true", Encoding.UTF8, "application/x-www-form-urlencoded");
        await ApiStage.ProblemAsync(await stage.Http.PostAsync("api/desks/bench/watch", form, TestContext.Current.CancellationToken), 415, "json-needed");
    }

    [Fact]
    public async Task The_wrong_method_is_405() =>
        await ApiStage.ProblemAsync(await stage.Http.DeleteAsync("api/desks", TestContext.Current.CancellationToken), 405, "method-not-allowed");

    [Theory]
    [InlineData("api/desks/bench/checks")]
    [InlineData("api/checks/" + NoSuchId + "/finish")]
    [InlineData("api/proposals/" + NoSuchId + "/decline")]
    public async Task A_body_over_64_KiB_is_413_whether_or_not_it_would_be_read(string path)
    {
        using var large = new StringContent("{\"inputs\":[1]," + new string(' ', 64 * 1024) + "}", Encoding.UTF8, "application/json");
        await ApiStage.ProblemAsync(await stage.Http.PostAsync(path, large, TestContext.Current.CancellationToken), 413, "too-large");
    }

    [Fact]
    public async Task A_long_body_without_a_length_is_413_too()
    {
        using var stream = new StreamContent(new MemoryStream(Encoding.UTF8.GetBytes("{\"inputs\":[" + new string(' ', 80 * 1024) + "1]}")));
        stream.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using var request = new HttpRequestMessage(HttpMethod.Post, "api/desks/bench/checks") { Content = stream };
        request.Headers.TransferEncodingChunked = true;
        await ApiStage.ProblemAsync(await stage.Http.SendAsync(request, TestContext.Current.CancellationToken), 413, "too-large");
    }

    [Theory]
    [InlineData("https://elsewhere.example", null)]
    [InlineData("null", null)]
    [InlineData(null, "elsewhere.example")]
    [InlineData("http://elsewhere.example", "elsewhere.example")]
    public async Task A_foreign_page_changes_nothing(string? origin, string? host)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "api/desks/bench/watch") { Content = new StringContent("""{"on":true}""", Encoding.UTF8, "application/json") };
        if (origin is not null)
            request.Headers.TryAddWithoutValidation("Origin", origin);
        request.Headers.Host = host;

        await ApiStage.ProblemAsync(await stage.Http.SendAsync(request, TestContext.Current.CancellationToken), 403, "not-allowed");

        Assert.False((await stage.GetAsync("api/desks/bench"))["watching"]!.GetValue<bool>());
    }

    [Fact]
    public async Task The_services_own_page_may_change_things()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "api/desks/bench/watch") { Content = new StringContent("""{"on":false}""", Encoding.UTF8, "application/json") };
        request.Headers.TryAddWithoutValidation("Origin", stage.Url.GetLeftPart(UriPartial.Authority));

        using var answer = await stage.Http.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(200, (int)answer.StatusCode);
    }
}
