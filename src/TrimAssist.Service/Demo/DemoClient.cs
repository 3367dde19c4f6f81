using TrimAssist.Service.Contract;

namespace TrimAssist.Service.Demo;

/// <summary>What the demo's stage manager and its scripted engineer do over HTTP, like any other client. Refuses any desk but the demo's.</summary>
internal sealed class DemoClient(HttpClient http)
{
    /// <summary>The only desk that these hands touch.</summary>
    public const string DeskId = "demo";

    public async Task<DeskReply> DeskAsync(CancellationToken cancellationToken) =>
        await GetAsync<DeskReply>($"api/desks/{DeskId}", cancellationToken);

    public async Task<Guid> StartCheckAsync(IReadOnlyList<int> inputs, CancellationToken cancellationToken) =>
        (await PostAsync<CheckReply>($"api/desks/{DeskId}/checks", new CheckRequest(inputs), cancellationToken)).Id;

    public Task<CheckReply> FinishCheckAsync(Guid check, CancellationToken cancellationToken) =>
        PostAsync<CheckReply>($"api/checks/{check}/finish", null, cancellationToken);

    public Task WatchAsync(bool on, CancellationToken cancellationToken) =>
        PostAsync<DeskReply>($"api/desks/{DeskId}/watch", new WatchRequest(on), cancellationToken);

    public async Task EndActAsync(CancellationToken cancellationToken)
    {
        using var answer = await http.PostAsync($"api/desks/{DeskId}/acts/end", null, cancellationToken);
        answer.EnsureSuccessStatusCode();
    }

    public async Task<IReadOnlyList<ProposalReply>> ProposalsAsync(string query, CancellationToken cancellationToken) =>
        await GetAsync<IReadOnlyList<ProposalReply>>($"api/proposals{query}", cancellationToken);

    public async Task<IReadOnlyList<AlarmReply>> AlarmsAsync(CancellationToken cancellationToken) =>
        await GetAsync<IReadOnlyList<AlarmReply>>("api/alarms", cancellationToken);

    /// <summary>Confirms exactly what the proposal shows, naming its dangers.</summary>
    /// <exception cref="InvalidOperationException">The proposal is another desk's.</exception>
    public Task<ProposalReply> ConfirmAsync(ProposalReply shown, CancellationToken cancellationToken) =>
        string.Equals(shown.Desk, DeskId, StringComparison.Ordinal)
            ? PostAsync<ProposalReply>($"api/proposals/{shown.Id}/confirm", new ConfirmRequest(shown.Digest, shown.Needs), cancellationToken)
            : throw new InvalidOperationException($"The scripted engineer confirms for the demo desk only, not for \"{shown.Desk}\".");

    private async Task<T> GetAsync<T>(string path, CancellationToken cancellationToken) =>
        await http.GetFromJsonAsync<T>(path, ApiJson.Options, cancellationToken) ?? throw new InvalidDataException($"{path} answered nothing.");

    private async Task<T> PostAsync<T>(string path, object? body, CancellationToken cancellationToken)
    {
        using var answer = await http.PostAsJsonAsync(path, body, ApiJson.Options, cancellationToken);
        answer.EnsureSuccessStatusCode();
        return await answer.Content.ReadFromJsonAsync<T>(ApiJson.Options, cancellationToken) ?? throw new InvalidDataException($"{path} answered nothing.");
    }
}
