namespace Rootwater.Web.Components;

/// <summary>A page that shows what there is so far and looks again while more is being worked out.</summary>
public abstract class FollowingPage : DeskPage
{
    private static readonly TimeSpan s_look = TimeSpan.FromSeconds(1.5);
    private bool _following;

    /// <summary>Something is being worked out that is not shown yet.</summary>
    protected abstract bool IsBehind { get; }

    /// <summary>Looks again.</summary>
    protected abstract Task LookAsync();

    protected override void OnAfterRender(bool firstRender)
    {
        if (!_following && IsBehind)
        {
            _following = true;
            _ = FollowAsync();
        }
    }

    private async Task FollowAsync()
    {
        try
        {
            while (IsBehind)
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
