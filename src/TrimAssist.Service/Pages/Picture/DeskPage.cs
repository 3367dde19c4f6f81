using Microsoft.AspNetCore.Components;
using TrimAssist.Service.Loops;

namespace TrimAssist.Service.Pages.Picture;

/// <summary>A view that follows one desk: the picture is taken anew while it is looked at.</summary>
public abstract class DeskPage : ComponentBase, IAsyncDisposable
{
    private readonly CancellationTokenSource _gone = new();
    private Task _following = Task.CompletedTask;

    /// <summary>The desk's id; absent: the first desk.</summary>
    [Parameter]
    public string? Id { get; set; }

    [Inject]
    internal DeskPicture Picture { get; set; } = null!;

    /// <summary>The desk; <see langword="null"/> where there is none by that id.</summary>
    protected DeskHost? Host { get; private set; }

    /// <summary>The picture last taken; <see langword="null"/> where there is no desk.</summary>
    protected DeskSnapshot? Now { get; private set; }

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        Host = Picture.Find(Id);
        if (Host is null)
            return;
        Now = Picture.Last(Host);
        await TakeInAsync(await Picture.TakeAsync(Host));
    }

    /// <inheritdoc/>
    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender && Host is not null)
            _following = Picture.FollowAsync(Host, ShowAsync, _gone.Token);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _gone.CancelAsync();
        try
        {
            await _following;
        }
        catch (OperationCanceledException)
        {
            // The usual end of a page.
        }

        _gone.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>Called for every new picture before it is shown: a view that shows more than the picture takes it here.</summary>
    protected virtual Task PictureTakenAsync() => Task.CompletedTask;

    private Task ShowAsync(DeskSnapshot snapshot) => InvokeAsync(async () =>
    {
        await TakeInAsync(snapshot);
        StateHasChanged();
    });

    private Task TakeInAsync(DeskSnapshot snapshot)
    {
        Now = snapshot;
        return PictureTakenAsync();
    }
}
