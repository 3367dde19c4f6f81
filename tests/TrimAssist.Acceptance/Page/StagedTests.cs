using TrimAssist.Core.Assist;
using Xunit;

namespace TrimAssist.Acceptance.Page;

/// <summary>Tests of the page, each with a desk and a service of its own: a watch, a check or stopped meters of one never reach another.</summary>
/// <param name="browser">The browser.</param>
/// <param name="inputs">How many inputs the desk has.</param>
/// <param name="room">How the rehearsal room works; <see langword="null"/> where it is none.</param>
public abstract class StagedTests(TheBrowser browser, int inputs = 24, RehearsalOptions? room = null) : IAsyncLifetime
{
    private protected PageStage Stage { get; } = new(browser, inputs) { Room = room };

    /// <inheritdoc/>
    public async ValueTask InitializeAsync() => await BeginAsync();

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Stage.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    /// <summary>How each test begins.</summary>
    private protected virtual Task BeginAsync() => Stage.StartAsync();
}
