namespace Rootwater.Growing.Mixing;

/// <summary>From wants, waters and cupboard to weighed doses.</summary>
public static class CanPlanner
{
    /// <summary>Plans the cans.</summary>
    /// <param name="request">Everything the planner needs to know.</param>
    /// <param name="progress">Told what is being done and how far it is.</param>
    /// <param name="cancel">Ends the search by exception.</param>
    /// <exception cref="PlanRequestException">The request cannot be planned as it is; the message names each field.</exception>
    /// <exception cref="Solvers.SolverUnavailableException">The native solver library cannot be loaded on this machine.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static PlanOutcome Plan(PlanRequest request, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var problems = PlanRequestCheck.Problems(request);
        return problems.Count > 0 ? throw new PlanRequestException(problems) : new PlanSession(request, progress, cancel).Run();
    }
}
