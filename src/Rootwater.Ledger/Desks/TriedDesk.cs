using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Growing.Evidence;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What was tried, from what was poured, weighed, believed and measured.</summary>
internal sealed class TriedDesk(BenchDatabase database, IPlantDesk plants, INutrientLedger nutrients, IEvidenceDesk evidence, BenchTime time) : ITriedDesk
{
    private static readonly (string Symbol, Nutrient Nutrient)[] s_shown = [("P", Nutrient.Phosphorus), ("K", Nutrient.Potassium), ("Ca", Nutrient.Calcium), ("Mg", Nutrient.Magnesium)];

    public async Task<TriedSheet?> OfPlantAsync(Guid plantId, CancellationToken cancel = default)
    {
        if (await plants.GetAsync(plantId, cancel) is not { } life)
        {
            return null;
        }

        var today = await time.TodayAsync(cancel);
        var weeks = await nutrients.OfPlantAsync(plantId, cancel: cancel);
        var years = weeks.GroupBy(week => week.Monday.Year).OrderByDescending(group => group.Key).Select(Year).ToList();
        var ph = weeks.Where(week => week.ForecastRootPH is not null || week.MeasuredRootPH is not null).GroupBy(week => week.Monday.Year).OrderByDescending(group => group.Key).Select(PH).ToList();
        var products = await ProductsAsync(plantId, cancel);
        var told = await EvidenceAsync(life.Card.Number, cancel);
        return new TriedSheet
        {
            Plant = new PlantRef(life.Card.Id, life.Card.Number, life.Card.Name),
            From = life.Arrived.EarliestDay,
            To = life.Card.LostOn ?? today,
            Words = [.. Words(life, years, products, ph, told)],
            Years = years,
            Products = products,
            RootPH = ph,
            Pots = life.Pots,
            Photos = life.Photos.Count < 2 ? life.Photos : [life.Photos[0], life.Photos[^1]],
            Evidence = told,
            Method =
            [
                "Elements: what the plant's share of each can brought by the can's card, and plain water by its report; a leach counts for nothing, because it runs out again.",
                "Products: the plant's share by volume of what was weighed for each can.",
                "pH at the root: believed is the mean forecast of the first week after each feed as it was written down then; measured is what the pen read in the reservoir.",
                $"n: {weeks.Count} weeks with anything given, {products.Sum(product => product.Cans)} cans by product, {ph.Sum(year => year.MeasuredWeeks)} weeks with a measured pH.",
            ],
        };
    }

    private static TriedYear Year(IGrouping<int, NutrientWeek> weeks)
    {
        var fed = weeks.Where(week => week.FeedMillilitres > 0).ToList();
        var given = weeks.Aggregate(NutrientAmounts.Zero, (sum, week) => sum.PlusScaled(week.Milligrams, 1));
        var litres = fed.Sum(week => week.FeedMillilitres) / 1000;
        var read = fed.Where(week => week.MeanEcMicrosiemensPerCm is not null).ToList();
        double? ec = read.Count == 0 ? null : read.Sum(week => week.MeanEcMicrosiemensPerCm!.Value * week.FeedMillilitres) / read.Sum(week => week.FeedMillilitres);
        return new TriedYear(weeks.Key, fed.Count, litres, weeks.Sum(week => week.WaterMillilitres) / 1000, ec, given, litres > 0 ? given.Scaled(1 / litres) : NutrientAmounts.Zero);
    }

    private static TriedPH PH(IGrouping<int, NutrientWeek> weeks)
    {
        var believed = weeks.Select(week => week.ForecastRootPH).OfType<double>().ToList();
        var measured = weeks.Select(week => week.MeasuredRootPH).OfType<double>().ToList();
        return new TriedPH(
            weeks.Key, believed.Count == 0 ? null : believed.Average(), believed.Count, measured.Count == 0 ? null : measured.Average(), measured.Count == 0 ? null : measured.Min(), measured.Count == 0 ? null : measured.Max(), measured.Count);
    }

    private Task<IReadOnlyList<TriedProduct>> ProductsAsync(Guid plantId, CancellationToken cancel) => database.ReadAsync<IReadOnlyList<TriedProduct>>(async db =>
    {
        var poured = await (
            from feeding in db.Feedings
            where feeding.PlantId == plantId && feeding.CanId != null
            join can in db.Cans on feeding.CanId equals (Guid?)can.Id
            select new { can.Id, can.Litres, feeding.Day, feeding.Millilitres }).ToListAsync(cancel);
        var ids = poured.Select(pour => pour.Id).Distinct().ToList();
        var steps = new List<(Guid CanId, Guid LotId, double Grams)>();
        foreach (var some in ids.Chunk(500))
        {
            foreach (var step in await db.CanSteps.AsNoTracking().Where(step => some.Contains(step.CanId)).Select(step => new { step.CanId, step.Uses }).ToListAsync(cancel))
            {
                steps.AddRange(step.Uses.Select(use => (step.CanId, use.LotId, use.Grams)));
            }
        }

        var products = (await db.Products.Select(product => new { product.Id, product.Name }).ToListAsync(cancel)).ToDictionary(product => product.Id, product => product.Name);
        var lots = (await db.Lots.Select(lot => new { lot.Id, lot.ProductId }).ToListAsync(cancel)).ToDictionary(lot => lot.Id, lot => products.GetValueOrDefault(lot.ProductId, "?"));
        var ofCan = steps.ToLookup(step => step.CanId);
        return
        [
            .. poured.Where(pour => pour.Litres > 0).SelectMany(pour => ofCan[pour.Id].GroupBy(step => lots.GetValueOrDefault(step.LotId, "?")).Select(group => (Product: group.Key, pour.Id, pour.Day, Litres: pour.Millilitres / 1000, PerLitre: group.Sum(step => step.Grams) / pour.Litres)))
                .GroupBy(part => part.Product)
                .Select(group => new TriedProduct(
                    group.Key, group.Select(part => part.Id).Distinct().Count(), group.Sum(part => part.Litres * part.PerLitre),
                    group.Sum(part => part.Litres) is > 0 and var litres ? group.Sum(part => part.Litres * part.PerLitre) / litres : 0, group.Min(part => part.Day), group.Max(part => part.Day)))
                .OrderByDescending(product => product.Grams),
        ];
    }, cancel);

    private async Task<TriedEvidence?> EvidenceAsync(int number, CancellationToken cancel)
    {
        try
        {
            var answer = await evidence.LivesAsync(new EvidenceQuestion(new PlantGroup { Number = number }), cancel);
            return new TriedEvidence(answer.Since, answer.Changes.FirstOrDefault(change => change.Day == answer.Since)?.Words, answer.Verdict is { } verdict ? FactWords.Of(verdict.Strength) : null, answer.Words, answer.Basis);
        }
        catch (Exception none) when (none is EntryException or EvidenceInputException)
        {
            // A plant without leaves on record cannot be asked about.
            return null;
        }
    }

    private static IEnumerable<string> Words(PlantLife life, List<TriedYear> years, IReadOnlyList<TriedProduct> products, List<TriedPH> ph, TriedEvidence? told)
    {
        if (years.Count == 0)
        {
            yield return "Nothing that was given is on record.";
            yield break;
        }

        var (feed, water) = (years.Sum(year => year.FeedLitres), years.Sum(year => year.WaterLitres));
        yield return FactWords.Say($"Since {years[^1].Year} it got {feed:0.#} L of feed in {years.Sum(year => year.Feeds)} weeks, and {water:0.#} L of plain water{(life.Card.Pot is { } pot ? $"; it grows in {pot.Medium}" : "")}.");
        var last = years.Find(year => year.FeedLitres > 0);
        if (last is not null)
        {
            yield return FactWords.Say($"In {last.Year} the feed held on average {last.MgPerLitre.TotalNitrogen:0} mg/L of N, {string.Join(", ", s_shown.Select(each => FactWords.Say($"{last.MgPerLitre[each.Nutrient]:0} of {each.Symbol}")))}; {100 * NitrateShare(last.Milligrams):0} % of the nitrogen was nitrate.");
        }

        if (products.Count > 0)
        {
            yield return "It was mixed from " + string.Join(", ", products.Take(6).Select(product => FactWords.Say($"{product.Product} ({product.GramsPerLitre:0.##} g/L in {product.Cans} {(product.Cans == 1 ? "can" : "cans")})"))) + ".";
        }

        if (ph.Count > 0)
        {
            yield return FactWords.Say($"pH at the root in {ph[0].Year}: {(ph[0].Believed is { } believed ? FactWords.Say($"believed {believed:0.0}") : "no forecast")}, {(ph[0].Measured is { } measured ? FactWords.Say($"measured {measured:0.0} ({ph[0].MeasuredLow:0.0} to {ph[0].MeasuredHigh:0.0}, {ph[0].MeasuredWeeks} weeks)") : "not measured")}.");
        }

        if (told is not null)
        {
            yield return told.Words;
        }
    }

    private static double NitrateShare(NutrientAmounts amounts) => amounts.TotalNitrogen > 0 ? amounts[Nutrient.NitrateNitrogen] / amounts.TotalNitrogen : 0;
}
