using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Planning: checks, the bench's own rates, power.
public sealed partial class TrialDesk
{
    private const int FewestPlants = 4;
    private const double WantedPower = 0.8;
    private const int SearchRuns = 300;

    public async Task<TrialForecast> PlanAsync(TrialPlan plan, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        var today = await time.TodayAsync(cancel);
        var plants = await CheckAsync(plan, today, cancel);
        var all = await evidence.PlantsAsync(cancel);
        var (warnings, rates) = (new List<string>(), new List<string>());
        var begins = plan.Begins ?? today;
        var years = (begins.AddMonths(plan.Months).DayNumber - begins.DayNumber) / 365.25;
        try
        {
            var simulate = Simulation(plan, plants, all, today, rates, warnings);
            return await Task.Run(
                () =>
                {
                    var power = simulate(years, plan.Runs, new Part(progress, 0, 0.6), cancel);
                    var months = MonthsNeeded(simulate, new Part(progress, 0.6, 0.4), cancel);
                    return Forecast(plan, plants, power, months, begins, years, rates, warnings);
                }, cancel);
        }
        catch (EvidenceInputException refused)
        {
            throw new EntryException(refused.Field, refused.Value, refused.Accepted);
        }
    }

    private delegate TrialPowerResult Simulate(double years, int runs, IProgress<double>? progress, CancellationToken cancel);

    private static Simulate Simulation(TrialPlan plan, List<EvidencePlant> plants, IReadOnlyList<EvidencePlant> all, DateOnly today, List<string> rates, List<string> warnings)
    {
        var each = plants.Count / 2;
        var within = BlocksOf(plan.WithinKinds, plants);
        List<string> blocks = [.. plants.Select(plant => within[plant.Id])];
        if (plan.Outcomes[0] == TrialOutcome.LeafLoss)
        {
            var design = TrialRates.Leaves(plants, all, today, rates, warnings) with { PlantsPerArm = each, Blocks = blocks, HazardRatio = plan.Ratio, Looks = plan.Looks, Spending = plan.Spending, Alpha = Alpha };
            return (years, runs, progress, cancel) => TrialSimulator.Power(design with { Years = years }, runs, 1, progress, cancel);
        }

        var values = TrialRates.Values(plan.Outcomes[0], plants, all, today, rates, warnings) with { PlantsPerArm = each, Blocks = blocks, Ratio = plan.Ratio, Looks = plan.Looks, Spending = plan.Spending, Alpha = Alpha };
        return (years, runs, progress, cancel) => ValueTrialSimulator.Power(values with { Years = years }, runs, 1, progress, cancel);
    }

    /// <summary>What each plant is drawn within. Plants that are the only ones of their kind are drawn together: alone in a block there is nothing to draw, and nothing could be told.</summary>
    internal static Dictionary<Guid, string> BlocksOf(bool withinKinds, IReadOnlyList<EvidencePlant> plants)
    {
        var kin = plants.CountBy(plant => plant.KindWords, StringComparer.OrdinalIgnoreCase).ToDictionary(StringComparer.OrdinalIgnoreCase);
        return plants.ToDictionary(plant => plant.Id, plant => withinKinds && kin[plant.KindWords] > 1 ? plant.KindWords : "");
    }

    // By quarters up to ten years: the shortest with the wanted power.
    private static int? MonthsNeeded(Simulate simulate, IProgress<double> progress, CancellationToken cancel)
    {
        if (simulate(10, SearchRuns, null, cancel).Power < WantedPower)
        {
            return null;
        }

        int low = 1, high = 40;
        for (var step = 1; low < high; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = simulate(middle / 4.0, SearchRuns, null, cancel).Power >= WantedPower ? (low, middle) : (middle + 1, high);
            progress.Report(Math.Min(1, step / 6.0));
        }

        return 3 * high;
    }

    private static TrialForecast Forecast(TrialPlan plan, List<EvidencePlant> plants, TrialPowerResult power, int? months, DateOnly begins, double years, List<string> rates, List<string> warnings)
    {
        var ends = begins.AddMonths(plan.Months);
        var looks = power.NominalLevels.Select((level, k) => new PlannedLook(k + 1, DayAt(begins, ends, (k + 1) / (double)plan.Looks), level)).ToList();
        var what = plan.Outcomes[0] == TrialOutcome.LeafLoss ? "losses" : TrialReckoner.Name(plan.Outcomes[0]);
        var words = new List<string>
        {
            FactWords.Say($"With {plants.Count / 2} plants in each arm over {years:0.#} years, {plan.Ratio:0.##} times the {what} would be found {100 * power.Power:0} times in 100 if it is there ({power.Runs} simulated trials, ± {100 * power.StandardError:0.#})."),
            months is { } needed ? FactWords.Say($"About {needed} months would find it 8 times in 10.") : "Not even ten years would find it 8 times in 10 with these plants: more plants, a larger difference, or an outcome that happens more often.",
        };
        if (plan.Looks > 1)
        {
            words.Add(FactWords.Say($"{plan.Looks} looks: the first claims only at p below {Small(looks[0].Level)}, the last at {looks[^1].Level:0.####}; in all a trial without a difference still claims one 5 times in 100."));
            warnings.Add("Every look before the end has its price; looks that are not planned cost too, and are written down.");
        }

        if (power.Power < 0.5)
        {
            warnings.Add(FactWords.Say($"As planned it would more often than not find nothing although the difference is there: \"nothing found\" would then say little."));
        }

        if (plants.Count / 2 < FewestPlants)
        {
            warnings.Add("With fewer than four plants in each arm even the clearest difference can come by chance more often than one time in twenty.");
        }

        if (plan.Outcomes.Count > 1)
        {
            warnings.Add(FactWords.Say($"{plan.Outcomes.Count} outcomes are corrected for being several; the power is that of the first taken alone."));
        }

        if (plan.Seed is not null)
        {
            warnings.Add("A seed of your own could have been tried out; it will be written down that it was yours.");
        }

        return new TrialForecast(power.Power, power.StandardError, months, power.MeanLosses, looks, words, warnings, rates, power.Runs);
    }

    private async Task<List<EvidencePlant>> CheckAsync(TrialPlan plan, DateOnly today, CancellationToken cancel)
    {
        var problems = new FactProblems();
        problems.Text("question", plan.Question, 300);
        if (plan.Arms is not { Count: 2 } || plan.Arms.Select(arm => arm.Name?.Trim()).Distinct(StringComparer.OrdinalIgnoreCase).Count() != 2)
        {
            problems.Add("arms", plan.Arms is null ? null : string.Join(", ", plan.Arms.Select(arm => arm.Name)), "two arms, each with its own name");
        }

        foreach (var arm in plan.Arms ?? [])
        {
            problems.Text("arm", arm.Name, 60);
            problems.Text("gets", arm.Gets, 300);
        }

        if (plan.Outcomes is not { Count: > 0 } || plan.Outcomes.Distinct().Count() != plan.Outcomes.Count || !plan.Outcomes.All(Enum.IsDefined))
        {
            problems.Add("outcomes", plan.Outcomes is null ? null : string.Join(", ", plan.Outcomes), $"at least one of {string.Join(", ", Enum.GetNames<TrialOutcome>())}, each once");
        }

        if (plan.Begins < today)
        {
            problems.Add("begins", FactWords.Say($"{plan.Begins:yyyy-MM-dd}"), FactWords.Say($"today ({today:yyyy-MM-dd}) or later: a trial is registered before its first datum"));
        }

        problems.Range("months", plan.Months, 1, 120, "months");
        problems.Range("looks", plan.Looks, 1, 10, "looks");
        problems.Range("runs", plan.Runs, 100, 10_000, "simulated trials");
        if (!(plan.Ratio is >= 0.05 and <= 20) || Math.Abs(plan.Ratio - 1) < 0.01)
        {
            problems.Add("ratio", FactWords.Say($"{plan.Ratio}"), "0.05 to 20 and not 1: second arm over first, 0.5 for half the losses");
        }

        if (!Enum.IsDefined(plan.Spending))
        {
            problems.Add("spending", FactWords.Say($"{plan.Spending}"), string.Join(", ", Enum.GetNames<Spending>()));
        }

        var numbers = plan.Plants ?? [];
        var here = (await evidence.PlantsAsync(cancel)).Where(plant => plant.Left is null).ToDictionary(plant => plant.Number);
        if (numbers.Count < 4 || numbers.Distinct().Count() != numbers.Count)
        {
            problems.Add("plants", string.Join(", ", numbers), "at least four plants, each once");
        }
        else if (numbers.Where(number => !here.ContainsKey(number)).ToList() is { Count: > 0 } gone)
        {
            problems.Add("plants", string.Join(", ", gone), "numbers of plants that stand on this bench");
        }

        problems.Refuse();
        return [.. numbers.Select(number => here[number])];
    }

    internal static string TestWords(IReadOnlyList<TrialOutcome> outcomes, Spending spending) =>
        $"the draw made again 9,999 times with other seeds; two-sided p of the difference between arms ({string.Join(", ", outcomes.Select(outcome => outcome == TrialOutcome.LeafLoss ? "leaf loss: mean log-rank score of plants" : TrialReckoner.Name(outcome) + ": mean of plants"))}); level 0.05 over all looks by {(spending == Spending.Pocock ? "Pocock" : "O'Brien–Fleming")} spending{(outcomes.Count > 1 ? "; Benjamini–Hochberg over outcomes" : "")}";

    private sealed class Part(IProgress<double>? all, double from, double length) : IProgress<double>
    {
        public void Report(double value) => all?.Report(from + length * value);
    }
}
