using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>The mixing table over the ledger.</summary>
public sealed partial class MixingDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IMixingDesk
{
    public Task<BenchToday> GetBenchTodayAsync(DateOnly? asOf = null, CancellationToken cancel = default) =>
        database.ReadAsync(db => BenchReader.TodayAsync(db, asOf, clock, cancel), cancel);

    public async Task<PlanOutcome> PlanAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
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

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());
}
