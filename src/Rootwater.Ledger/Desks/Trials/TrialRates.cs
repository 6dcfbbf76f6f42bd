using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What a simulation takes from the bench's own records: how long leaves live, how many come, how plants differ. Where the records are thin it borrows, and says so.</summary>
internal static class TrialRates
{
    private const int FewestLosses = 8;
    private const int LastYears = 2;

    public static TrialDesign Leaves(List<EvidencePlant> plants, IReadOnlyList<EvidencePlant> all, DateOnly today, List<string> rates, List<string> warnings)
    {
        if (plants.Count(plant => !plant.IsEvergreen) is > 0 and var shedding)
        {
            warnings.Add(FactWords.Say($"{shedding} of these plants shed their leaves by season, which does not count as loss: they will tell little."));
        }

        var kinds = plants.Select(plant => plant.KindWords).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var kin = all.Where(plant => kinds.Contains(plant.KindWords)).ToList();
        var (fit, lives) = Fit(kin, today);
        var from = "their kinds";
        if (fit is null)
        {
            (fit, lives) = Fit([.. all.Where(plant => plant.IsEvergreen)], today);
            from = "all evergreen plants, since their kinds have lost too few";
        }

        double median = 3, shape = 2, spread = 0.4;
        if (fit is null)
        {
            rates.Add("Leaf life: fewer than eight losses on record; taken as 3 years for half of them, Weibull shape 2 (judgement).");
        }
        else
        {
            (median, shape, spread) = (Math.Clamp(fit.Quantile(0.5) / 365.25, 0.05, 20), Math.Clamp(fit.Shape, 0.3, 10), Spread(fit, lives));
            rates.Add(FactWords.Say($"Leaf life: half are lost by {median:0.0} years, Weibull shape {shape:0.0}, from {fit.Events} losses of {from}."));
        }

        rates.Add(FactWords.Say($"Plants differ by ± {100 * spread:0} % in their hazard (standard deviation of its logarithm)."));
        var standing = plants.Average(plant => CountedLife.Of(plant, LivesOf.Leaves, today).Count(life => life.Why == "still there"));
        var fresh = PerYear(plants, today, plant => plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => !leaf.ThereOnArrival).Select(leaf => leaf.FirstSeen.Middle));
        rates.Add(FactWords.Say($"A plant has {standing:0.#} leaves and makes {fresh:0.#} a year (last {LastYears} years)."));
        return new TrialDesign { PlantsPerArm = 2, HazardRatio = 0.5, Years = 1, MedianLeafYears = median, Shape = shape, PlantSpread = spread, LeavesPerPlant = Math.Clamp(standing, 1, 100), NewLeavesPerYear = Math.Clamp(fresh, 0, 50) };
    }

    public static ValueTrialDesign Values(TrialOutcome outcome, List<EvidencePlant> plants, IReadOnlyList<EvidencePlant> all, DateOnly today, List<string> rates, List<string> warnings)
    {
        if (outcome == TrialOutcome.LeafLength)
        {
            return Length(plants, today, rates, warnings);
        }

        var own = plants.ConvertAll(plant => PerYear([plant], today, each => Events(outcome, each)));
        var mean = own.Average();
        var name = TrialReckoner.Name(outcome);
        if (mean < 0.05)
        {
            mean = all.Where(plant => plant.Left is null).Select(plant => PerYear([plant], today, each => Events(outcome, each))).DefaultIfEmpty(0).Average();
            warnings.Add($"These plants made next to no {name} in the last {LastYears} years; the figure is that of the whole bench.");
        }

        mean = Math.Max(mean, 0.05);
        // What plants differ beyond what counting alone scatters.
        var variance = own.Sum(value => (value - own.Average()) * (value - own.Average())) / Math.Max(1, own.Count - 1) - own.Average() / LastYears;
        var spread = Math.Clamp(own.Average() > 0 ? Math.Sqrt(Math.Max(0, variance)) / own.Average() : 0.4, 0.1, 1.5);
        rates.Add(FactWords.Say($"{name}: {mean:0.##} a plant and year in the last {LastYears} years; plants differ by ± {100 * spread:0} %."));
        return new ValueTrialDesign { PlantsPerArm = 2, Mean = mean, PlantSpread = spread, Counts = true, Ratio = 1.2, Years = 1 };
    }

    private static ValueTrialDesign Length(List<EvidencePlant> plants, DateOnly today, List<string> rates, List<string> warnings)
    {
        var lengths = plants.Select(plant => plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => leaf.FirstSeen.Middle > today.AddYears(-4))
            .Select(leaf => leaf.Measures.Max(measure => measure.LengthMillimetres)).OfType<double>().ToList()).Where(own => own.Count > 0).ToList();
        if (lengths.Count < 3)
        {
            warnings.Add("Fewer than three of these plants have measured leaves: the figures are judgement.");
            rates.Add("Length of new leaves: plants differ by ± 30 %, years of one plant by ± 5 % (judgement).");
            return new ValueTrialDesign { PlantsPerArm = 2, Mean = 150, PlantSpread = 0.3, YearlyScatter = 0.05, Counts = false, Ratio = 1.2, Years = 1 };
        }

        var means = lengths.ConvertAll(own => own.Average());
        var mean = means.Average();
        var spread = Math.Sqrt(means.Sum(value => (value - mean) * (value - mean)) / (means.Count - 1)) / mean;
        var within = lengths.Where(own => own.Count > 1).Select(own => Math.Sqrt(own.Sum(value => (value - own.Average()) * (value - own.Average())) / (own.Count - 1)) / own.Average()).DefaultIfEmpty(0.05).Average();
        rates.Add(FactWords.Say($"Length of new leaves: {mean:0} mm on average; plants differ by ± {100 * spread:0} %, leaves of one plant by ± {100 * within:0} %."));
        return new ValueTrialDesign { PlantsPerArm = 2, Mean = mean, PlantSpread = Math.Clamp(spread, 0.02, 1.5), YearlyScatter = Math.Clamp(within, 0.01, 1), Counts = false, Ratio = 1.2, Years = 1 };
    }

    private static IEnumerable<DateOnly> Events(TrialOutcome outcome, EvidencePlant plant) => outcome switch
    {
        TrialOutcome.NewLeaves => plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => !leaf.ThereOnArrival).Select(leaf => leaf.FirstSeen.Middle),
        TrialOutcome.Spikes => plant.Growths.SelectMany(growth => growth.Spikes).Select(spike => spike.FirstSeen.Middle),
        _ => plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is not null).SelectMany(spike => Enumerable.Repeat(spike.FirstFlower!.Value.Middle, spike.Flowers ?? 0)),
    };

    private static double PerYear(IReadOnlyList<EvidencePlant> plants, DateOnly today, Func<EvidencePlant, IEnumerable<DateOnly>> events)
    {
        var since = today.AddYears(-LastYears);
        var years = plants.Sum(plant => Math.Max(0, today.DayNumber - Math.Max(since.DayNumber, plant.Arrived.Middle.DayNumber)) / 365.25);
        return years > 0 ? plants.Sum(plant => events(plant).Count(day => day >= since && day >= plant.Arrived.Earliest)) / years : 0;
    }

    private static (WeibullFit? Fit, IReadOnlyList<(string Plant, Lifetime Life)> Lives) Fit(List<EvidencePlant> plants, DateOnly today)
    {
        var (days, _) = CountedLife.InDays([.. plants.SelectMany(plant => CountedLife.Of(plant, LivesOf.Leaves, today)).Where(life => life.AgeKnown)]);
        var lives = days.Select(life => (life.Days.Plant, Lifetime.FromStart(Math.Max(life.Days.LastDay - life.Days.BornDay, 0.5), life.Days.Lost))).ToList();
        if (lives.Count(life => life.Item2.Ended) < FewestLosses)
        {
            return (null, lives);
        }

        var fit = WeibullRegression.Fit([.. lives.Select(life => life.Item2)]);
        return (fit.Cannot is null && fit.Parameters is not null ? fit : null, lives);
    }

    /// <summary>Standard deviation of plants' log hazard: how losses scatter about those expected, beyond what counting alone gives (method of moments).</summary>
    private static double Spread(WeibullFit fit, IReadOnlyList<(string Plant, Lifetime Life)> lives)
    {
        var plants = lives.GroupBy(life => life.Plant).Select(own => (Lost: own.Count(life => life.Life.Ended), Expected: own.Sum(life => -Math.Log(Math.Max(1e-300, fit.Survival(life.Life.Exit)))))).ToList();
        if (plants.Count < 6)
        {
            return 0.4;
        }

        var variance = plants.Sum(own => (own.Lost - own.Expected) * (own.Lost - own.Expected) - own.Expected) / plants.Sum(own => own.Expected * own.Expected);
        return Math.Clamp(Math.Sqrt(Math.Log(1 + Math.Max(0, variance))), 0.1, 1.2);
    }
}
