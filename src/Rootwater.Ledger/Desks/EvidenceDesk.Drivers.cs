using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// What goes with the loss of leaves: one Cox regression over everything the ledger knows.
public sealed partial class EvidenceDesk
{
    /// <summary>From which the round leaches any pot (judgement: no threshold is published for pots such as these).</summary>
    private static readonly double s_salty = RoundOptions.Default.LeachAtMostMicrosiemensPerCm;
    private const int RepottedDays = 75;

    /// <summary>The usual bound from which regressions share an effect out at will (Dormann and others 2013, Ecography 36:27, from memory).</summary>
    private const double TooAlike = 0.7;
    private const double LeastSpread = 0.2;

    public Task<DriversAnswer> DriversAsync(EvidenceQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync("drivers", question.Plants, async (group, _) =>
        {
            var shedding = group.Plants.Count(plant => !plant.IsEvergreen);
            var plants = shedding == group.Plants.Count ? group.Plants : [.. group.Plants.Where(plant => plant.IsEvergreen)];
            var says = new List<string>();
            if (shedding > 0 && plants.Count < group.Plants.Count)
            {
                says.Add($"{shedding} plants of kinds that shed by season are left out: what they drop says little of their feed.");
            }

            var (all, vague) = CountedLife.InDays([.. plants.SelectMany(plant => CountedLife.Of(plant, LivesOf.Leaves, group.Today))]);
            says.AddRange(vague);
            var lives = all.Where(life => life.Days.LastDay > life.Days.BornDay).ToList();
            if (lives.Count(life => !life.Life.AgeKnown) is > 0 and var came)
            {
                says.Add($"{came} leaves were there when their plant came, their age unknown: they are compared among themselves, by their time here.");
            }

            return await DriversAsync(group with { Plants = plants }, lives, says);
        }, cancel);

    private async Task<(LeafIntervals Intervals, List<Driver> Drivers)> IntervalsAsync(IReadOnlyList<EvidencePlant> plants, IReadOnlyList<(CountedLife Life, LeafLife Days)> lives)
    {
        var sources = DriversOf(plants, await FeedsAsync(plants), await AirAsync());
        return (new LeafIntervals(lives, sources), sources.ConvertAll(source => source.Driver));
    }

    private static List<DriverSource> DriversOf(IReadOnlyList<EvidencePlant> plants, FeedHistory feeds, AirHistory air)
    {
        double? Poured(EvidencePlant plant, DateOnly day, Func<NutrientAmounts, double> of, double floor) =>
            feeds.Mean(plant.Id, of, day, LeafIntervals.SupplyDays) is { } mg ? Math.Log2(Math.Max(mg, floor)) : null;
        // Of next to nothing there is no composition.
        double? Against(EvidencePlant plant, DateOnly day, Func<NutrientAmounts, double> of) =>
            feeds.Mean(plant.Id, mg => mg.TotalNitrogen, day, LeafIntervals.SupplyDays) is >= 4 and var nitrogen && feeds.Mean(plant.Id, of, day, LeafIntervals.SupplyDays) is { } mg ? Math.Log2(Math.Max(mg, 0.5) / nitrogen) : null;
        var south = plants.Any(plant => plant.South);
        // A feed is a strength and a composition: plain water between feeds thins all nutrients alike, so each is asked against nitrogen, and nitrogen stands for the strength.
        var drivers = new List<DriverSource>
        {
            new(FactWords.Say($"potassium to nitrogen poured, last {LeafIntervals.SupplyDays} days"), "each doubling", (plant, day) => Against(plant, day, mg => mg[Nutrient.Potassium]), FeedPart.Share),
            new(FactWords.Say($"strength poured (nitrogen), last {LeafIntervals.SupplyDays} days"), "each doubling", (plant, day) => Poured(plant, day, mg => mg.TotalNitrogen, 4), FeedPart.Whole),
            new(FactWords.Say($"magnesium to nitrogen poured, last {LeafIntervals.SupplyDays} days"), "each doubling", (plant, day) => Against(plant, day, mg => mg[Nutrient.Magnesium]), FeedPart.Share),
            // Salt hurts above some strength, not by the doubling; a reading misses and a month lies between two, so the chance that it was above stands for yes or no.
            new(FactWords.Say($"salt: EC in the medium above {s_salty / 1000:0.0} mS/cm"), "yes against no", (plant, day) => feeds.Root.ChanceAbove(plant.Id, day, s_salty)),
            new(FactWords.Say($"repotted within {RepottedDays} days"), "yes against no", (plant, day) => plant.Repotted.Any(potted => day.DayNumber + LeafIntervals.LagDays - potted.DayNumber is >= 0 and < RepottedDays) ? 1 : 0),
            new("season", south ? "mid-July against January or October" : "mid-January against April or October", (_, day) => Math.Cos(2 * Math.PI * (day.DayOfYear + LeafIntervals.LagDays - 15 - (south ? 182.6 : 0)) / 365.25)),
            new("resting", "yes against no", (plant, day) => plant.WasIn(day, PlantState.DryRest) || plant.WasIn(day, PlantState.CoolRest) ? 1 : 0),
            new("in spike or flower", "yes against no", (plant, day) => plant.WasIn(day, PlantState.InSpike) || plant.WasIn(day, PlantState.Flowering) ? 1 : 0),
        };
        if (air.HasWarmth)
        {
            // Against what is usual at its place at the time of the year: the season has a row of its own.
            drivers.Add(new("warmer than usual for the season, last 30 days", "each °C", (plant, day) => plant.PlaceOn(day) is { } place ? air.Unusual(place, day, 30) : null));
        }

        var light = Light(plants, air);
        if (light.Count > 1)
        {
            drivers.Add(new("light of its place", "each doubling", (plant, day) => plant.PlaceOn(day) is { } place && light.TryGetValue(place, out var mean) ? Math.Log2(Math.Max(mean, 1)) : null));
        }

        return drivers;
    }

    /// <summary>Mean light of each place over all days it was logged: places differ by far more than years do.</summary>
    private static Dictionary<Guid, double> Light(IReadOnlyList<EvidencePlant> plants, AirHistory air)
    {
        var places = new Dictionary<Guid, double>();
        if (!air.HasLight)
        {
            return places;
        }

        foreach (var place in plants.SelectMany(plant => plant.Places).Select(place => place.PlaceId).Distinct())
        {
            if (air.Between([place], DateOnly.MinValue.AddDays(1), DateOnly.MaxValue).Light is { } light)
            {
                places[place] = light;
            }
        }

        return places;
    }

    private async Task<DriversAnswer> DriversAsync(Group group, IReadOnlyList<(CountedLife Life, LeafLife Days)> lives, List<string> says)
    {
        var basis = new EvidenceBasis(
            "Cox regression on the age of the leaf, kinds as strata (leaves that came with the plant in strata of their own, by their time here), covariates by the fortnight and a week before, Efron ties; errors robust by plant, t with one degree of freedom less than plants in which a thing varies; Schoenfeld check of proportional hazards; Benjamini–Hochberg over rows",
            ["What was poured stands for what the root got: effects come out smaller than they are.", "Each row is at given values of the others.", SurvivalWords.NonInformative], group.Plants.Count, lives.Count, lives.Count(life => life.Days.Lost));
        var losses = lives.Where(life => life.Days.Lost).Select(life => life.Days.LastDay).ToList();
        if (losses.Count == 0)
        {
            return new DriversAnswer(group.Who, "No leaf was lost, so nothing can be said of what goes with a loss.", [], says, basis);
        }

        if (losses.Count > 1 && losses.Max() - losses.Min() < 1)
        {
            return new DriversAnswer(group.Who, FactWords.Say($"All {losses.Count} leaves were lost on one day: that is one happening, and what happened then is the question."), [], says, basis);
        }

        var (intervals, drivers) = await IntervalsAsync(group.Plants, lives);
        var used = Enumerable.Range(0, drivers.Count).Where(j => intervals.Unknown(j) < 0.7).ToList();
        says.AddRange(Enumerable.Range(0, drivers.Count).Except(used).Select(j => $"{drivers[j].Name}: not known for most of the time, left out."));
        // Asked for a doubling where the records hold a tenth of one, a regression answers with a guess.
        foreach (var j in used.Where(j => drivers[j].Unit == "each doubling" && intervals.Spread(j) is > 0 and < LeastSpread).ToList())
        {
            says.Add(FactWords.Say($"{drivers[j].Name} hardly varied (± {100 * (Math.Pow(2, intervals.Spread(j)) - 1):0} %): what a doubling would do cannot be told, so it is left out."));
            used.Remove(j);
        }

        // What changed in a plant or two cannot be told from what else happened to them; light is the place's and changes in none.
        foreach (var j in used.Where(j => intervals.Plants >= WithinPlants.FewestPlants && intervals.VariesIn(j) is > 0 and < WithinPlants.FewestPlants).ToList())
        {
            says.Add(FactWords.Say($"{drivers[j].Name}: it varied in {intervals.VariesIn(j)} plants; {WithinPlants.FewestPlants} are the least that can tell it from a plant's own history, so it is left out."));
            used.Remove(j);
        }

        // Two that rise and fall as one would share an effect out between them at will, one up and one down: only the first is asked.
        foreach (var j in used.ToList())
        {
            if (used.TakeWhile(earlier => earlier != j).FirstOrDefault(earlier => Math.Abs(intervals.Together(earlier, j)) > TooAlike, -1) is >= 0 and var twin)
            {
                says.Add(FactWords.Say($"{drivers[j].Name} rises and falls with {drivers[twin].Name} (r = {intervals.Together(twin, j):0.00}): these records cannot tell them apart, so it is left out, and what is said of the one may be of the other."));
                used.Remove(j);
            }
        }

        // Ten losses for each are the usual least; with fewer, those that growers ask about most come first.
        var most = Math.Max(1, losses.Count / 5);
        if (used.Count > most)
        {
            says.Add(FactWords.Say($"{losses.Count} losses bear {most} covariates at the most (five losses each): left out are {string.Join(", ", used.Skip(most).Select(j => drivers[j].Name))}."));
            used = [.. used.Take(most)];
        }

        says.AddRange(used.Where(j => intervals.Unknown(j) > 0.02).Select(j => FactWords.Say($"{drivers[j].Name}: not known for {100 * intervals.Unknown(j):0} % of the time, taken at its mean there.")));
        if (used.Count == 0)
        {
            return new DriversAnswer(group.Who, "Nothing that could go with a loss was written down.", [], says, basis);
        }

        var fit = CoxRegression.Fit(intervals.Request([.. used.Select(j => drivers[j].Name)], used));
        // Errors robust by plant rest on the plants in which a thing varies; what stands still in each is told between plants.
        var freedom = used.ConvertAll(j => Math.Max(1, (intervals.VariesIn(j) is > 0 and var varies ? varies : intervals.Plants) - 1));
        var lines = Lines(fit, used, drivers, freedom);
        says.AddRange(SurvivalWords.Regression(fit).Where(sentence => sentence.Contains("are few", StringComparison.Ordinal)));
        var stand = lines.Where(line => line.Strength >= Strength.Hint).ToList();
        var asked = lines.Count(line => line.P is not null);
        var words = fit.Cannot ?? (stand.Count > 0
            ? string.Join(" ", stand.Select(line => line.Words)) + FactWords.Say($" ({asked} questions at once, corrected.) Records without a draw: another reason can be behind each.")
            : FactWords.Say($"Too early to tell: of {asked} things asked at once none goes with the loss of leaves more than chance would give, in {losses.Count} losses."));
        return new DriversAnswer(group.Who, words, lines, says, basis);
    }

    private static List<DriverLine> Lines(CoxFit fit, List<int> used, List<Driver> drivers, List<int> freedom)
    {
        var p = fit.Coefficients.Select((each, j) => P(each, freedom[j])).ToArray();
        var asked = Enumerable.Range(0, p.Length).Where(j => p[j] is not null).ToList();
        var adjusted = Multiplicity.Adjust([.. asked.Select(j => p[j]!.Value)]);
        var lines = fit.Coefficients.Select((each, j) =>
        {
            var driver = drivers[used[j]];
            if (each.Cannot is { } cannot || p[j] is not { } chance || each.Value is not { } value)
            {
                return new DriverLine(driver.Name, driver.Unit, null, null, null, null, null, null, Strength.CannotTell, each.Cannot ?? fit.Cannot ?? "It cannot be told.");
            }

            var corrected = adjusted[asked.IndexOf(j)];
            var reach = Tails.StudentFor(0.95, freedom[j]) * Error(each)!.Value;
            var (ratio, lower, upper) = (Math.Exp(value), Math.Exp(value - reach), Math.Exp(value + reach));
            // Without a draw another reason can be behind it: one step less than p alone would give.
            var strength = corrected <= 0.001 ? Strength.Good : corrected <= 0.05 ? Strength.Hint : Strength.TooEarly;
            var how = strength switch { Strength.Good => "Good evidence", Strength.Hint => "A hint", _ => "Too early to tell" };
            return new DriverLine(driver.Name, driver.Unit, ratio, lower, upper, chance, corrected, fit.Proportionality.FirstOrDefault(check => check.Name == driver.Name)?.P, strength,
                FactWords.Say($"{how}: {driver.Name} ({driver.Unit}) goes with {ratio:0.##} times the chance of losing a leaf ({lower:0.##} to {upper:0.##}). {SurvivalWords.Chance(chance)}"));
        }).ToList();
        var shares = lines.Where((line, j) => drivers[used[j]].Feed == FeedPart.Share && line.Strength >= Strength.Hint).ToList();
        return [.. lines.Select((line, j) => drivers[used[j]].Feed == FeedPart.Whole ? NotOfItsOwn(line, shares) : line)];
    }

    /// <summary>A stronger feed brings more of what is short, too: up to what that nutrient does by itself, strength has shown nothing of its own.</summary>
    private static DriverLine NotOfItsOwn(DriverLine line, List<DriverLine> shares) =>
        line.Strength >= Strength.Hint && Math.Log(line.HazardRatio!.Value) is var own && shares.Find(share => Math.Log(share.HazardRatio!.Value) / own >= 1) is { } share
            ? line with { Strength = Strength.TooEarly, Words = FactWords.Say($"{line.Name} ({line.Unit}) goes with {line.HazardRatio:0.##} times the chance of losing a leaf ({line.Lower:0.##} to {line.Upper:0.##}), but a stronger feed brings more of everything, and {share.Name} goes the same way: that may be all it is.") }
            : line;

    // The larger of both errors, and t for few plants: robust errors alone are too small with fewer than some twenty clusters.
    private static double? Error(CoxCoefficient each) => each.StandardError is not { } model ? null : Math.Max(model, each.RobustError ?? 0);

    private static double? P(CoxCoefficient each, int freedom) =>
        each.Value is { } value && Error(each) is { } error && error > 0 && double.IsFinite(value) ? Tails.StudentTwoSided(value / error, freedom) : null;
}
