using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// What earlier cans taught, at the mixing table.
public sealed partial class MixingDesk
{
    // With fewer cans behind it, a history says no more than the card does.
    private const int LeastHistory = 3;

    /// <summary>The history of cans; null where there is none to ask.</summary>
    internal CanHistoryDesk? History { get; init; }

    public async Task<IReadOnlyList<TradeOffPoint>> TradeOffAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var today = await WithPourPHsAsync(choices.AsOf, progress, cancel);
        var request = PlanRequests.From(today, choices);
        try
        {
            return await Task.Run(() => TradeOff.Of(request, progress, cancel), cancel);
        }
        catch (PlanRequestException refused)
        {
            throw new EntryException([.. refused.Problems.Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Accepted))]);
        }
    }

    private async Task<PlanOutcome> WithLearnedAsync(PlanOutcome outcome, CancellationToken cancel)
    {
        if (History is null || outcome.Plan is not { } plan)
        {
            return outcome;
        }

        var cans = new List<CanPlan>();
        foreach (var can in plan.Cans)
        {
            // A can topped from another of this plan is judged once that one is kept: what is in it is not in the ledger yet.
            var learned = can.Steps.Any(step => step.FromCanId is { } from && plan.Cans.Any(other => other.Id == from)) ? null : await History.ExpectAsync(can, cancel);
            cans.Add(can with { AsLearned = learned });
        }

        return outcome with { Plan = plan with { Cans = cans } };
    }

    // Where cans were read before, what would explain this one is ranked by them; else the card's own checks stand.
    private async Task<CanVerdict> ByHistoryAsync(CanVerdict verdict, SavedCan can, int? afterStep, CancellationToken cancel)
    {
        if (History is null || can.Card.Repairs.Count > 0 || (afterStep is { } step && step < can.Card.Steps.Max(each => each.Number))
            || await History.GetAsync(can.Id, cancel) is not { } explained || explained.ReadBefore < LeastHistory)
        {
            return verdict;
        }

        var known = explained.KnownAlready.Count > 0 ? $" Counted in: {string.Join("; ", explained.KnownAlready)}." : "";
        return verdict with
        {
            Explanations = explained.Explanations,
            ByHistory = verdict.Agrees && explained.Explanations.Count == 0 ? null : FactWords.Say($"By the {explained.ReadBefore} cans read before: {Lower(explained.Words)}{known}"),
            CheckFirst = explained.Explanations.Count > 0 ? [.. explained.CheckFirst.Select(each => FactWords.Say($"{each.Check} ({each.Minutes:0.#} min)")).Distinct()] : verdict.CheckFirst,
        };
    }

    private static string Lower(string words) => words.StartsWith("The ", StringComparison.Ordinal) ? char.ToLowerInvariant(words[0]) + words[1..] : words;
}
