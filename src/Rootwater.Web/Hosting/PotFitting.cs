using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Hosting;

/// <summary>Sets the pots' first fit going when the program has started, off every request. Setting: <c>pots:fit</c> (true; false fits when a page asks).</summary>
public sealed class PotFitting(IPotLearningDesk desk, IConfiguration configuration, IHostApplicationLifetime life) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        if (configuration.GetValue("pots:fit", true))
            life.ApplicationStarted.Register(desk.RefreshSoon);
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken)
    {
        desk.Stop();
        return Task.CompletedTask;
    }
}
