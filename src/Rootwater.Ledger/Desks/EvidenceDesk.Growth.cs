using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Rates;
using Rootwater.Growing.Evidence.Seasons;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// What goes with growth and flowers; and whether places or the moon do anything.
public sealed partial class EvidenceDesk
{
    /// <summary>A leaf measured sooner is still growing (judgement; most are full in three to four months).</summary>
    private const int FullGrownDays = 90;

    /// <summary>Roots that show later have nothing to do with the repotting.</summary>
    private const int RootDays = 200;

    /// <summary>What was poured in the months in which a spike grows.</summary>
    private const int FlowerDays = 120;

    /// <summary>A spike that shows sooner after the plant came was set on elsewhere (judgement).</summary>
    private const int SettledDays = 150;
    private const int SpikeWarmthDays = 45, WarmWeeksDays = 30;
    private const int PlaceDraws = 4_999;
    private const string Within = "each plant against itself (least squares about the plant's own mean), errors robust by plant, t with plants less one degrees of freedom";
    private const string WithinByRanks = "each plant against itself by ranks: the few plants of such kinds, and spikes that a weak plant shows months late; p by dealing each plant's dates anew over its own years";

    public Task<GrowthAnswer> GrowthAsync(EvidenceQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync("growth", question.Plants, async (group, _) =>
        {
            var (feeds, air) = (await FeedsAsync(group.Plants), await AirAsync());
            var products = await database.ReadAsync(db => PouredProducts.ReadAsync(db, [.. group.Plants.Select(plant => plant.Id)], CancellationToken.None));
            List<GrowthLine> lines = [Lengths(group, feeds), .. Roots(group), .. Flowers(group, products), Cool(group, air), Warm(group, air), Places(group)];
            var asked = lines.Where(line => line.P is not null).ToList();
            var adjusted = Multiplicity.Adjust([.. asked.Select(line => line.P!.Value)]);
            lines = [.. lines.Select(line => asked.IndexOf(line) is var at && at >= 0 ? Judged(line, adjusted[at]) : line)];
            var stand = lines.Where(line => line.Strength >= Strength.Hint).ToList();
            var words = stand.Count > 0
                ? string.Join(" ", stand.Select(line => line.Words)) + FactWords.Say($" ({asked.Count} questions at once, corrected.) Records without a draw: another reason can be behind each.")
                : asked.Count == 0 ? "Too little was written down of roots, leaf lengths, flowers and spikes to ask anything."
                : FactWords.Say($"Too early to tell: of {asked.Count} things asked at once none goes together more than chance would give.");
            return new GrowthAnswer(group.Who, words, lines, new EvidenceBasis(
                "each row by its own method, named beside it; Benjamini–Hochberg over rows",
                ["What was poured stands for what the root got: effects come out smaller than they are.", "Of all that goes with the time of year only what is named is asked.", SurvivalWords.NonInformative],
                group.Plants.Count, lines.Sum(line => line.Values), asked.Count));
        }, cancel);

    private static GrowthLine Judged(GrowthLine line, double corrected)
    {
        var strength = corrected <= 0.001 ? Strength.Good : corrected <= 0.05 ? Strength.Hint : Strength.TooEarly;
        var how = strength switch { Strength.Good => "Good evidence", Strength.Hint => "A hint", _ => "Too early to tell" };
        return line with { PAdjusted = corrected, Strength = strength, Words = FactWords.Say($"{how}: {line.Words} {SurvivalWords.Chance(line.P!.Value)}") };
    }

    private static GrowthLine Line(string outcome, string name, string unit, WithinSlope slope, bool ratio, int values)
    {
        double? Scale(double? value) => ratio ? value is { } log ? Math.Exp(log) : null : value;
        var line = new GrowthLine(outcome, name, unit, Scale(slope.Slope), ratio ? "times" : "days", Scale(slope.Interval?.Lower), Scale(slope.Interval?.Upper), slope.P, null, slope.Plants, values, Strength.CannotTell, "", Within);
        return line with
        {
            Words = slope.P is null ? $"{outcome} and {name}: {slope.Cannot}"
                : ratio ? FactWords.Say($"{name} ({unit}) goes with {line.Effect:0.00} times the {outcome} ({line.Lower:0.00} to {line.Upper:0.00}), in {slope.Plants} plants.")
                : FactWords.Say($"{name} ({unit}) goes with {outcome} {Math.Abs(line.Effect!.Value):0.#} days {(line.Effect < 0 ? "earlier" : "later")} ({line.Lower:0.#} to {line.Upper:0.#}), in {slope.Plants} plants."),
        };
    }

    /// <summary>Asked of what is in the medium: what was poured says little of it, and both together would share one effect out between them.</summary>
    private static GrowthLine Lengths(Group group, FeedHistory feeds)
    {
        var values = new List<PlantValue>();
        foreach (var plant in group.Plants)
        {
            foreach (var leaf in plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => !leaf.ThereOnArrival))
            {
                var born = leaf.FirstSeen.Middle;
                var length = leaf.Measures.Where(measure => measure.On >= born.AddDays(FullGrownDays)).Max(measure => measure.LengthMillimetres);
                if (length > 0 && feeds.Root.MeanLog(plant.Id, born, LeafIntervals.SupplyDays) is { } ec)
                {
                    values.Add(new PlantValue(plant.Called, Math.Log(length.Value), [ec / Math.Log(2)]));
                }
            }
        }

        // Most of what a feed leaves in a pot is nitrate and what goes with it.
        return Line("length of new leaves", FactWords.Say($"strength in the medium (EC), {LeafIntervals.SupplyDays} days before they show"), "each doubling", WithinPlants.Fit(values, ["ec"])[0], true, values.Count);
    }

    private static IEnumerable<GrowthLine> Roots(Group group)
    {
        var values = new List<PlantValue>();
        var south = group.Plants.Any(plant => plant.South);
        foreach (var plant in group.Plants)
        {
            foreach (var day in plant.Repotted)
            {
                // The next repotting begins a new wait.
                var until = plant.Repotted.Where(other => other > day).DefaultIfEmpty(group.Today).Min();
                var shown = plant.NewRoots.Select(span => span.Middle).Where(seen => seen > day && seen < until && seen.DayNumber - day.DayNumber < RootDays).ToList();
                if (shown.Count > 0)
                {
                    values.Add(new PlantValue(plant.Called, shown.Min().DayNumber - day.DayNumber, [IsDark(day, south) ? 1 : 0, IsFullMoon(day) ? 1 : 0]));
                }
            }
        }

        var slopes = WithinPlants.Fit(values, ["dark", "moon"]);
        yield return Line("new roots after repotting", south ? "repotted from April to July" : "repotted from October to January", "yes against no", slopes[0], false, values.Count);
        yield return Line("new roots after repotting", "repotted by a full moon", "against by a new moon", slopes[1], false, values.Count);
    }

    private static bool IsDark(DateOnly day, bool south) => south ? day.Month is >= 4 and <= 7 : day.Month is >= 10 or 1;

    /// <summary>Nearer to full than to new, by the mean synodic month from the new moon of 6 January 2000; right to half a day or so (Meeus, from memory).</summary>
    private static bool IsFullMoon(DateOnly day)
    {
        var age = (day.DayNumber - new DateOnly(2000, 1, 6).DayNumber) % 29.530588;
        return (age < 0 ? age + 29.530588 : age) is > 7.4 and < 22.1;
    }

    private static IEnumerable<GrowthLine> Flowers(Group group, PouredProducts products)
    {
        var blooms = group.Plants.SelectMany(plant => plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is not null && spike.Flowers is > 0)
            .Select(spike => (Plant: plant, On: spike.FirstFlower!.Value.Middle, Flowers: spike.Flowers!.Value))).ToList();
        var rows = new List<GrowthLine>();
        foreach (var product in products.Names)
        {
            var values = blooms.Select(bloom => (bloom, Share: products.Share(bloom.Plant.Id, product, bloom.On, FlowerDays))).Where(each => each.Share is not null)
                .Select(each => new PlantValue(each.bloom.Plant.Called, Math.Log(each.bloom.Flowers), [each.Share!.Value])).ToList();
            var slope = WithinPlants.Fit(values, [product])[0];
            // What was in every feed or in none says nothing, and is no question.
            if (slope.Plants > 0)
            {
                rows.Add(Line("flowers of a spike", FactWords.Say($"{product} in the feed, {FlowerDays} days before"), "in all feeds against none", slope, true, values.Count));
            }
        }

        return rows;
    }

    // The first spike of each season against how warm the weeks before it usually comes were: warmth of a fixed time of the year, for a later spike is always one after cooler days. What a plant brought
    // along from elsewhere is left out.
    private static GrowthLine Cool(Group group, AirHistory air)
    {
        var values = new List<PlantValue>();
        foreach (var plant in group.Plants.Where(plant => plant.Kind is { } kind && InductionRule.For(kind.Genus) is not null))
        {
            var here = plant.Arrived.Latest.AddDays(SettledDays);
            var firsts = SeasonDates.FirstOfEach(plant.Growths.SelectMany(growth => growth.Spikes).Select(spike => spike.FirstSeen.Middle)).Where(first => first >= here).ToList();
            if (firsts.Count < 2 || SeasonBand.Of(firsts, group.Today).MeanDayOfYear is not { } usual)
            {
                continue;
            }

            foreach (var first in firsts)
            {
                // The day of that season on which it usually comes.
                var due = Enumerable.Range(-1, 3).Select(years => new DateOnly(first.Year + years, 1, 1).AddDays((int)usual)).MinBy(day => Math.Abs(day.DayNumber - first.DayNumber));
                if (plant.PlaceOn(due) is { } place && air.Unusual(place, due, SpikeWarmthDays) is { } warmer)
                {
                    values.Add(new PlantValue(plant.Called, first.DayNumber - due.DayNumber, [warmer]));
                }
            }
        }

        var slope = WithinPlantRanks.Fit(values, "warmth");
        var line = Line("the spike", FactWords.Say($"warmer than usual, {SpikeWarmthDays} days before its usual time"), "each °C", slope, false, values.Count) with { Method = WithinByRanks };
        return slope.P is null ? line : line with { Words = line.Words + FactWords.Say($" Autumns differed by ± {Spread(values):0.0} °C.") };
    }

    private static double Spread(List<PlantValue> values) => Math.Sqrt(values.GroupBy(value => value.Plant).Sum(own => own.Sum(value => Math.Pow(value.X[0] - own.Average(each => each.X[0]), 2))) / Math.Max(1, values.Count));

    private static GrowthLine Warm(Group group, AirHistory air)
    {
        var (warm, cool) = (new EventCount(0, 0), new EventCount(0, 0));
        var plants = group.Plants.Where(plant => plant.Kind is { } kind && InductionRule.For(kind.Genus) is not null).ToList();
        foreach (var plant in plants)
        {
            var limit = InductionRule.For(plant.Kind!.Genus)!.DayMax;
            var spikes = plant.Growths.SelectMany(growth => growth.Spikes).Select(spike => spike.FirstSeen.Middle).CountBy(day => day).ToDictionary();
            for (var day = plant.Arrived.Middle; day < (plant.Left?.Middle ?? group.Today); day = day.AddDays(1))
            {
                if (plant.PlaceOn(day) is { } place && air.MeanHighest(place, day, WarmWeeksDays) is { } mean)
                {
                    var events = spikes.GetValueOrDefault(day);
                    (warm, cool) = mean > limit ? (new EventCount(warm.Events + events, warm.Time + 1 / 365.25), cool) : (warm, new EventCount(cool.Events + events, cool.Time + 1 / 365.25));
                }
            }
        }

        var line = new GrowthLine("spikes", FactWords.Say($"days above the limit of its genus over the {WarmWeeksDays} days before, as papers give it"), "such weeks against others", null, "times", null, null, null, null, plants.Count, (int)(warm.Events + cool.Events), Strength.CannotTell, "", "exact Poisson rate ratio (central p) of spikes per plant-year after warm weeks and after others");
        if (!(warm.Time > 0 && cool.Time > 0) || warm.Events + cool.Events == 0)
        {
            return line with { Words = plants.Count == 0 ? "Spikes and warm weeks: no plant here is of a genus for which a paper names a limit." : "Spikes and warm weeks: no spike was seen while the air was logged, or it was never so warm (or always)." };
        }

        var compared = PoissonRates.Compare(warm, cool);
        if (compared.P is not { } p || compared.Exact is not { } interval)
        {
            return line with { Words = "Spikes and warm weeks: there is nothing to compare." };
        }

        return line with
        {
            Effect = compared.Ratio is { } ratio && double.IsFinite(ratio) ? ratio : null,
            Lower = interval.Lower,
            Upper = double.IsFinite(interval.Upper) ? interval.Upper : null,
            P = Math.Min(1, p.Central),
            Words = FactWords.Say($"{warm.Events} spikes in {warm.Time:0.#} plant-years after weeks above the limit of their genus, {cool.Events} in {cool.Time:0.#} after others. Warm weeks are summer: the season alone could be behind it."),
        };
    }

    /// <summary>Places against each other: scores of plants dealt anew within their kinds.</summary>
    private static GrowthLine Places(Group group)
    {
        var here = group.Plants.Where(plant => plant.IsEvergreen && plant.PlaceOn(plant.Left?.Middle ?? group.Today) is not null).ToList();
        var (days, _) = CountedLife.InDays([.. here.SelectMany(plant => CountedLife.Of(plant, LivesOf.Leaves, group.Today)).Where(life => life.AgeKnown)]);
        var line = new GrowthLine("loss of leaves", "place against place", "any difference", null, "times", null, null, null, null, here.Count, days.Count(life => life.Days.Lost), Strength.CannotTell, "", FactWords.Say($"log-rank scores of plants within their kind, spread between the places where they stood longest; placed among {PlaceDraws:n0} deals of the plants of a kind over its places"));
        var scores = new List<(string Kind, Guid Place, double Score)>();
        foreach (var kind in days.GroupBy(life => life.Life.Plant.KindWords, StringComparer.OrdinalIgnoreCase))
        {
            if (kind.All(life => !life.Days.Lost))
            {
                continue;
            }

            var own = PlantScores.Of([.. kind.Select(life => (life.Days.Plant, Lifetime.FromStart(Math.Max(life.Days.LastDay - life.Days.BornDay, 0.5), life.Days.Lost)))]);
            scores.AddRange(kind.Select(life => life.Life.Plant).Distinct().Select(plant => (kind.Key, LongestPlace(plant, group.Today), own[FactWords.Say($"no. {plant.Number}")])));
        }

        // Only kinds of which plants stand at two places tell anything.
        scores = [.. scores.GroupBy(each => each.Kind).Where(kind => kind.Select(each => each.Place).Distinct().Count() > 1).SelectMany(kind => kind)];
        if (scores.Count < 6)
        {
            return line with { Words = "Place against place: fewer than six plants are of a kind that stands at more than one place, so nothing can be compared." };
        }

        var places = scores.Select(each => each.Place).ToArray();
        double Between()
        {
            // Sum of squares between places, of scores about their kind's mean.
            var sums = new Dictionary<Guid, (double Sum, int Count)>();
            for (var i = 0; i < scores.Count; i++)
            {
                var (sum, count) = sums.GetValueOrDefault(places[i]);
                sums[places[i]] = (sum + scores[i].Score, count + 1);
            }

            return sums.Values.Sum(each => each.Sum * each.Sum / each.Count);
        }

        var (seen, random, asLarge, differ) = (Between(), new Random(1), 1, 0);
        var kinds = scores.Select((each, i) => (each.Kind, i)).GroupBy(each => each.Kind).Select(kind => kind.Select(each => each.i).ToArray()).ToList();
        for (var draw = 0; draw < PlaceDraws; draw++)
        {
            foreach (var kind in kinds)
            {
                var dealt = kind.Select(i => places[i]).ToArray();
                random.Shuffle(dealt);
                for (var k = 0; k < kind.Length; k++)
                {
                    places[kind[k]] = dealt[k];
                }
            }

            var between = Between();
            asLarge += between >= seen - 1e-9 ? 1 : 0;
            differ += Math.Abs(between - seen) > 1e-9 ? 1 : 0;
        }

        return differ == 0
            ? line with { Words = "Place against place: however they were dealt the difference would be the same, so nothing can be told." }
            : line with { Plants = scores.Count, P = asLarge / (PlaceDraws + 1.0), Words = FactWords.Say($"loss of leaves differs between the places of {scores.Count} plants whose kind stands at more than one place.") };
    }

    private static Guid LongestPlace(EvidencePlant plant, DateOnly today)
    {
        var until = plant.Left?.Middle ?? today;
        return plant.Places.Select((place, i) => (place.PlaceId, Days: (i + 1 < plant.Places.Count ? plant.Places[i + 1].From : until).DayNumber - place.From.DayNumber))
            .GroupBy(place => place.PlaceId).MaxBy(place => place.Sum(each => each.Days))!.Key;
    }
}
