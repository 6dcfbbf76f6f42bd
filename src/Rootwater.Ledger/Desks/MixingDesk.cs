using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>The mixing table over the ledger.</summary>
public sealed partial class MixingDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IMixingDesk
{
    public Task<BenchToday> GetBenchTodayAsync(DateOnly? asOf = null, CancellationToken cancel = default) =>
        database.ReadAsync(db => BenchReader.TodayAsync(db, asOf, clock, cancel), cancel);

    public async Task<PlanOutcome> PlanAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        await ComputePourPHsAsync(choices.AsOf, progress, cancel);
        var request = PlanRequests.From(await GetBenchTodayAsync(choices.AsOf, cancel), choices);
        try
        {
            return await Task.Run(() => CanPlanner.Plan(request, progress, cancel), cancel);
        }
        catch (PlanRequestException refused)
        {
            throw new EntryException([.. refused.Problems.Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Accepted))]);
        }
    }

    private async Task ComputePourPHsAsync(DateOnly? asOf, IProgress<PlanProgress>? progress, CancellationToken cancel)
    {
        var (today, standing) = await database.ReadAsync(
            async db => (await BenchReader.TodayAsync(db, asOf, clock, cancel), (await BenchReader.StandingAsync(db, cancel)).ToDictionary(plant => plant.Plant.Id)), cancel);
        await Task.Run(
            () =>
            {
                foreach (var (group, index) in today.Due.Select((due, index) => (due.Group, index)))
                {
                    cancel.ThrowIfCancellationRequested();
                    progress?.Report(new PlanProgress("finding the pH to pour at for each kind of pot", 0.2 * index / today.Due.Count, null));
                    PourPHs.Compute(group.Want, BenchReader.UsualPot(group.Portions.Select(portion => standing[portion.PlantId])));
                }
            },
            cancel);
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());
}
