using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Components;

/// <summary>A page that shows the pots' fit so far and looks again while one is running.</summary>
public abstract class FollowingPage : DeskPage
{
    private static readonly TimeSpan s_look = TimeSpan.FromSeconds(1.5);
    private bool _following;

    /// <summary>How far the fit is; null before the first look.</summary>
    protected abstract FitState? State { get; }

    /// <summary>Looks again.</summary>
    protected abstract Task LookAsync();

    protected override void OnAfterRender(bool firstRender)
    {
        if (!_following && State is { Share: not null })
        {
            _following = true;
            _ = FollowAsync();
        }
    }

    private async Task FollowAsync()
    {
        try
        {
            while (State is { Share: not null })
            {
                await Task.Delay(s_look, Leaving);
                await InvokeAsync(async () =>
                {
                    await AttemptAsync(LookAsync);
                    StateHasChanged();
                });
            }
        }
        catch (Exception left) when (left is OperationCanceledException or ObjectDisposedException)
        {
            // The reader has gone.
        }
        finally
        {
            _following = false;
        }
    }
}
