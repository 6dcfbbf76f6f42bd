using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>The mixing table over the ledger.</summary>
public sealed partial class MixingDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IMixingDesk
{
    public Task<BenchToday> GetBenchTodayAsync(DateOnly? asOf = null, CancellationToken cancel = default) =>
        database.ReadAsync(db => BenchReader.TodayAsync(db, asOf, clock, cancel), cancel);

    public async Task<PlanOutcome> PlanAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var request = await RequestAsync(choices, progress, cancel);
        try
        {
            var outcome = await Task.Run(() => CanPlanner.Plan(request, progress, cancel), cancel);
            return choices.ExpectAsLearned ? await WithLearnedAsync(outcome, cancel) : outcome;
        }
        catch (PlanRequestException refused)
        {
            throw new EntryException([.. refused.Problems.Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Accepted))]);
        }
    }

    /// <summary>What a plan is asked with: who is due, at which pH, from what.</summary>
    internal async Task<PlanRequest> RequestAsync(PlanChoices choices, IProgress<PlanProgress>? progress, CancellationToken cancel) =>
        PlanRequests.From(await WithPourPHsAsync(choices.AsOf, progress, cancel), choices);

    // The pot model turned round for each kind of pot and want, on every core; the bench is read once.
    private async Task<BenchToday> WithPourPHsAsync(DateOnly? asOf, IProgress<PlanProgress>? progress, CancellationToken cancel)
    {
        var (today, standing) = await database.ReadAsync(
            async db =>
            {
                var standing = await BenchReader.StandingAsync(db, cancel);
                return (await BenchReader.TodayAsync(db, asOf, clock, standing, cancel), standing.ToDictionary(plant => plant.Plant.Id));
            },
            cancel);
        var (done, learned) = (0, database.Learned);
        await Task.Run(
            () => Parallel.ForEach(
                today.Due,
                new ParallelOptions { CancellationToken = cancel },
                due =>
                {
                    PourPHs.Compute(due.Group.Want, UsualPot(due), Taught(due));
                    progress?.Report(new PlanProgress("finding the pH to pour at for each kind of pot", 0.2 * Interlocked.Increment(ref done) / today.Due.Count, null));
                }),
            cancel);
        return today with { Due = [.. today.Due.Select(WithPourPH)] };

        PotRow UsualPot(DueGroup due) => BenchReader.UsualPot(due.Group.Portions.Select(portion => standing[portion.PlantId]));

        Growing.Pots.Calibration.FittedPot? Taught(DueGroup due) => learned?.FindTaught(UsualPot(due));

        DueGroup WithPourPH(DueGroup due)
        {
            var (band, from) = PourPHs.For(due.Group.Want, UsualPot(due), Taught(due));
            return due with { Group = due.Group with { PourPH = band }, PourPHFrom = from };
        }
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());
}
