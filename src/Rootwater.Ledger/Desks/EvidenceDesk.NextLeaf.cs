using Rootwater.Growing.Evidence.Pooling;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Which leaf is next.
public sealed partial class EvidenceDesk
{
    /// <summary>With fewer losses than this a kind's curve has no shape of its own, and all evergreen plants lend theirs.</summary>
    private const int FewestLosses = 8;

    public Task<NextLeafAnswer> NextLeafAsync(int number, CancellationToken cancel = default) =>
        OnGroupAsync("next", PlantGroup.Of(number), (group, all) => Task.FromResult(Next(group, all)), cancel);

    private static NextLeafAnswer Next(Group group, IReadOnlyList<EvidencePlant> all)
    {
        var plant = group.Plants[0];
        var standing = plant.Left is not null ? [] : CountedLife.Of(plant, LivesOf.Leaves, group.Today).Where(life => life.Why == "still there").ToList();
        var kin = all.Where(other => string.Equals(other.KindWords, plant.KindWords, StringComparison.OrdinalIgnoreCase)).ToList();
        var says = new List<string>();
        var lives = Known(kin, group.Today, says: null);
        var from = plant.KindWords;
        if (lives.Count(life => life.Days.Lost) < FewestLosses)
        {
            var wider = all.Where(other => other.IsEvergreen == plant.IsEvergreen).ToList();
            says.Add(FactWords.Say($"Its kind has lost {lives.Count(life => life.Days.Lost)} leaves whose age was known, too few for a curve: the shape is borrowed from all {(plant.IsEvergreen ? "evergreen" : "shedding")} plants."));
            (kin, from) = (wider, plant.IsEvergreen ? "all evergreen plants" : "all shedding plants");
            lives = Known(kin, group.Today, says);
        }

        var basis = new EvidenceBasis("Weibull curve with late entry of the leaves of its kind, shifted by the plant's own hazard as far as its records bear (partial pooling); 4,000 draws", [SurvivalWords.NonInformative, "Leaves of its kind live alike but for a factor of the plant."], kin.Count, lives.Count, lives.Count(life => life.Days.Lost));
        NextLeafAnswer Cannot(string why) => new(plant.Number, plant.Called, why, [.. standing.Select(leaf => new LeafChance(leaf.Name, Age(leaf, group.Today), leaf.AgeKnown, 0))], null, null, null, null, says, basis);
        if (standing.Count == 0)
        {
            return Cannot(plant.Left is not null ? "It is no longer on the bench." : "No leaf is on it that was written down.");
        }

        var fit = WeibullRegression.Fit([.. lives.Select(life => Cut(life.Days, double.NegativeInfinity, double.PositiveInfinity)).OfType<Lifetime>()]);
        if (fit.Cannot is { } cannot || fit.Parameters is null)
        {
            return Cannot(fit.Cannot ?? "The records do not fix a curve.");
        }

        var pooled = LeafHazards.Pool([.. lives.GroupBy(life => life.Life.Plant).Select(own => Losses(own, fit)).Append(new PlantLosses(plant.Called, "kin", 0, 1e-6))
            .GroupBy(own => own.Plant).Select(own => own.First())]);
        var mine = pooled.First(own => own.Plant == plant.Called);
        var shifted = Shifted(fit, mine);
        var next = LeafForecast.Next(shifted, [.. standing.Select(leaf => new StandingLeaf(leaf.Name, Age(leaf, group.Today)))]);
        if (next is null)
        {
            return Cannot("The records do not fix a curve.");
        }

        if (standing.Any(leaf => !leaf.AgeKnown))
        {
            says.Add(FactWords.Say($"{standing.Count(leaf => !leaf.AgeKnown)} of its leaves were there when it came: they are taken to be as old as their time here, so they may go sooner than this says."));
        }

        says.Add(FactWords.Say($"{100 * mine.Borrowed:0} % of its pace is borrowed from {from}; the rest is its own."));
        var ages = standing.GroupBy(leaf => leaf.Name).ToDictionary(leaf => leaf.Key, leaf => leaf.First());
        var (name, chance) = next.Chances[0];
        return new NextLeafAnswer(plant.Number, plant.Called,
            FactWords.Say($"The next leaf to go is likeliest {name} ({100 * chance:0} in 100), some leaf within {Time(next.MiddleDays)} ({Time(next.EarlyDays)} to {Time(next.LateDays)}, 90 % band)."),
            [.. next.Chances.Select(each => new LeafChance(each.Name, Age(ages[each.Name], group.Today), ages[each.Name].AgeKnown, each.Chance))],
            next.EarlyDays, next.MiddleDays, next.LateDays, mine.Borrowed, says, basis);
    }

    private static IReadOnlyList<(CountedLife Life, LeafLife Days)> Known(List<EvidencePlant> plants, DateOnly today, List<string>? says)
    {
        var (lives, vague) = CountedLife.InDays([.. plants.SelectMany(plant => CountedLife.Of(plant, LivesOf.Leaves, today)).Where(life => life.AgeKnown)]);
        says?.AddRange(vague);
        return lives;
    }

    /// <summary>Losses of a plant against those its kind's curve expects of it: time in expected losses, so that a ratio of 1 is the kind.</summary>
    private static PlantLosses Losses(IGrouping<EvidencePlant, (CountedLife Life, LeafLife Days)> own, WeibullFit fit)
    {
        var expected = own.Sum(life => Hazard(fit, Math.Max(life.Days.LastDay - life.Days.BornDay, 0.5)));
        return new PlantLosses(own.Key.Called, "kin", own.Count(life => life.Days.Lost), Math.Max(expected, 1e-6));
    }

    private static double Hazard(WeibullFit fit, double age) => -Math.Log(Math.Max(1e-300, fit.Survival(age)));

    // A hazard m times as high moves the location of log T by −scale × ln m; what is uncertain of m widens it.
    private static WeibullFit Shifted(WeibullFit fit, PooledHazard mine)
    {
        var parameters = (double[])fit.Parameters!.Clone();
        parameters[0] -= fit.Scale * Math.Log(mine.Middle);
        var covariance = (double[,])fit.Covariance!.Clone();
        var spread = fit.Scale * Math.Log(Math.Max(mine.Upper, 1e-9) / Math.Max(mine.Lower, 1e-9)) / (2 * 1.645);
        covariance[0, 0] += spread * spread;
        return fit with { Parameters = parameters, Covariance = covariance };
    }

    private static double Age(CountedLife leaf, DateOnly today) => Math.Max(0, today.DayNumber - leaf.Began.Middle.DayNumber);

    private static string Time(double days) => days < 60 ? FactWords.Say($"{days:0} days") : days < 700 ? FactWords.Say($"{days / 30.4:0} months") : FactWords.Say($"{days / 365.25:0.#} years");
}
