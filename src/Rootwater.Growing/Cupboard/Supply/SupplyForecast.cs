using System.Globalization;

namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>How long the cupboard lasts, by drawing the coming months again and again.</summary>
/// <remarks>
/// Cans already planned are used as planned. After them each draw goes on with gaps between cans and whole cans drawn with replacement from the past of the same
/// season (45 days either side in any year, where there are at least five), so that products used together run out together. Lots are used oldest first and not beyond
/// their date. Losses come at their past rate. The bands are what the past scatters; a bench that changes its ways is not foreseen.
/// Where the request brings <see cref="ComingRounds"/>, the cans after the planned ones come from who is due, plant by plant, in place of whole cans of the past.
/// </remarks>
public static class SupplyForecast
{
    private const int SeasonDays = 45;
    private const int LeastInSeason = 5;
    private const double DaysPerMonth = 30.44;

    /// <summary>Looks ahead.</summary>
    /// <exception cref="ArgumentException">Something given cannot be used; it names the field.</exception>
    public static SupplyOutlook Of(SupplyRequest request)
    {
        request.Check();
        var products = request.Cupboard.Select(item => item.Product.Id).ToList();
        var runOut = products.ToDictionary(id => id, _ => new List<int>());
        var used = products.ToDictionary(id => id, _ => new List<double>());
        var wasted = products.ToDictionary(id => id, _ => new List<double>());
        var needed = products.ToDictionary(id => id, _ => new List<double>());
        var random = new Random(request.Seed);
        for (var draw = 0; draw < request.Draws; draw++)
        {
            var shelves = request.Cupboard.ToDictionary(item => item.Product.Id, item => new Shelf(item, request.Today));
            var (taken, takenSoon) = (products.ToDictionary(id => id, _ => 0.0), products.ToDictionary(id => id, _ => 0.0));
            // In order of the days: what a loss in May takes was still there in April.
            foreach (var can in Coming(request, random).OrderBy(can => can.On))
            {
                foreach (var (id, grams) in can.Grams)
                {
                    if (!shelves.TryGetValue(id, out var shelf))
                    {
                        continue;
                    }

                    taken[id] += grams;
                    takenSoon[id] += can.On.DayNumber - request.Today.DayNumber <= request.BuyForDays ? grams : 0;
                    shelf.Take(grams, can.On);
                }
            }

            foreach (var id in products)
            {
                runOut[id].Add(shelves[id].RanOutOn is { } day ? day.DayNumber - request.Today.DayNumber : int.MaxValue);
                used[id].Add(taken[id] / request.HorizonDays * DaysPerMonth);
                needed[id].Add(takenSoon[id]);
                wasted[id].Add(shelves[id].WastedBy(request.Today.AddDays(request.HorizonDays)));
            }
        }

        var outlooks = request.Cupboard.Select(item => Outlook(request, item, runOut[item.Product.Id], used[item.Product.Id], wasted[item.Product.Id])).OrderBy(outlook => outlook.OrderBy ?? DateOnly.MaxValue).ToList();
        var shopping = outlooks.Where(outlook => outlook.OrderBy is not null).Select(outlook =>
        {
            var grams = Math.Ceiling(Quantile([.. needed[outlook.Product.Id]], 0.9) / 10) * 10;
            return new ShoppingLine(outlook.Product, outlook.OrderBy!.Value, grams, outlook.Product.PricePerKg is { } price ? Math.Round(price * (decimal)grams / 1000, 2) : null, outlook.OrderBy < request.Today);
        }).Where(line => line.Grams > 0).ToList();
        return new SupplyOutlook(outlooks, shopping, CostOf(request));
    }

    private static IEnumerable<CanUse> Coming(SupplyRequest request, Random random)
    {
        var (day, end) = (request.Today, request.Today.AddDays(request.HorizonDays));
        foreach (var planned in request.Planned.Where(can => can.On >= request.Today).OrderBy(can => can.On))
        {
            day = planned.On;
            yield return planned;
        }

        foreach (var loss in LossesOf(request, random, end))
        {
            yield return loss;
        }

        if (request.Rounds is { HasAny: true } rounds)
        {
            var strength = request.Growth * rounds.DrawStrength(random);
            foreach (var can in rounds.Draw(end, random))
            {
                yield return new CanUse(can.On, can.Pattern.GramsPerLitre.ToDictionary(pair => pair.Key, pair => pair.Value * can.Litres * strength), can.Litres, can.Plants);
            }

            yield break;
        }

        var past = request.Past.OrderBy(can => can.On).ToList();
        if (past.Count == 0)
        {
            yield break;
        }

        var gaps = past.Zip(past.Skip(1), (one, next) => (one.On, Days: next.On.DayNumber - one.On.DayNumber)).ToList();
        while (true)
        {
            // Without two cans there is no gap to draw; a week then (common practice).
            day = day.AddDays(gaps.Count == 0 ? 7 : Pick(gaps, gap => gap.On, day, random).Days);
            if (day > end)
            {
                yield break;
            }

            var can = Pick(past, each => each.On, day, random);
            yield return can with { On = day, Grams = request.Growth == 1 ? can.Grams : can.Grams.ToDictionary(pair => pair.Key, pair => pair.Value * request.Growth) };
        }
    }

    // Losses by product at their past rate, each as large as one of the past.
    private static IEnumerable<CanUse> LossesOf(SupplyRequest request, Random random, DateOnly end)
    {
        if (request.Losses.Count == 0)
        {
            yield break;
        }

        var first = request.Losses.Select(loss => loss.On).Concat(request.Past.Select(can => can.On)).Min();
        var days = Math.Max(30, request.Today.DayNumber - first.DayNumber);
        foreach (var product in request.Losses.GroupBy(loss => loss.ProductId))
        {
            var losses = product.ToList();
            var day = request.Today;
            while (true)
            {
                day = day.AddDays(1 + (int)Math.Min(100000, -Math.Log(1 - random.NextDouble()) * days / losses.Count));
                if (day > end)
                {
                    break;
                }

                yield return new CanUse(day, new Dictionary<Guid, double> { [product.Key] = losses[random.Next(losses.Count)].Grams }, 1, 0);
            }
        }
    }

    private static T Pick<T>(List<T> past, Func<T, DateOnly> on, DateOnly day, Random random)
    {
        var season = past.Where(each => Apart(on(each), day) <= SeasonDays).ToList();
        var from = season.Count >= LeastInSeason ? season : past;
        return from[random.Next(from.Count)];
    }

    /// <summary>Days between two dates within the year, whichever way round is shorter.</summary>
    private static int Apart(DateOnly one, DateOnly other)
    {
        var days = Math.Abs(one.DayOfYear - other.DayOfYear);
        return Math.Min(days, 365 - days);
    }

    private static ProductOutlook Outlook(SupplyRequest request, SupplyItem item, List<int> runOut, List<double> used, List<double> wasted)
    {
        var product = item.Product;
        var fresh = item.Lots.Where(lot => lot.BestBefore is not { } date || date >= request.Today).ToList();
        DateOnly? Day(double quantile) => Quantile([.. runOut.Select(days => (double)days)], quantile) is var days && days <= request.HorizonDays ? request.Today.AddDays((int)days) : null;
        var (early, middle, late) = (Day(0.1), Day(0.5), Day(0.9));
        var lead = request.LeadDays.GetValueOrDefault(product.Id, request.UsualLeadDays);
        var left = fresh.Sum(lot => lot.GramsLeft);
        var perMonth = new Expected(Quantile([.. used], 0.1), Quantile([.. used], 0.5), Quantile([.. used], 0.9));
        var outlook = new ProductOutlook
        {
            Product = product,
            GramsLeft = left,
            GramsPastDate = item.Lots.Sum(lot => lot.GramsLeft) - left,
            GramsPerMonth = perMonth,
            RunsOut = (early, middle, late),
            ChanceWithinHorizon = runOut.Count(days => days <= request.HorizonDays) / (double)runOut.Count,
            OrderBy = early?.AddDays(-lead),
            GramsLikelyWasted = Quantile([.. wasted], 0.5),
            Thinned = fresh.Where(lot => lot.GramsLeft > 0).Select(lot => Hygroscopy.Thinned(product, lot.OpenedOn, request.Today, request.RoomHumidityPercent)).OrderByDescending(thinned => thinned.Value).FirstOrDefault(),
            Words = "",
        };
        return outlook with { Words = Words(outlook, request) };
    }

    private static string Words(ProductOutlook outlook, SupplyRequest request)
    {
        var name = outlook.Product.Name;
        var (early, middle, late) = outlook.RunsOut;
        var words = outlook.GramsPerMonth.High <= 0
            ? Say($"{name}: {outlook.GramsLeft:0} g, not in use.")
            : early is { } from
                ? late is { } to
                    ? Say($"{name} lasts until {from:d MMMM} to {to:d MMMM yyyy}; order by {outlook.OrderBy:d MMMM}.")
                    : Say($"{name} may run out from {from:d MMMM yyyy} on{(middle is { } half ? Say($", more likely than not by {half:d MMMM yyyy}") : "")}; order by {outlook.OrderBy:d MMMM}.")
                : Say($"{name} lasts beyond {request.Today.AddDays(request.HorizonDays):MMMM yyyy}.");
        if (outlook.OrderBy < request.Today)
        {
            words += " That day has passed.";
        }

        if (outlook.GramsLikelyWasted > 1)
        {
            words += Say($" {outlook.GramsLikelyWasted:0} g of it will probably pass their date first.");
        }

        if (outlook.GramsPastDate > 0)
        {
            words += Say($" {outlook.GramsPastDate:0} g are past their date and not counted.");
        }

        if (outlook.Thinned.High > 0.02)
        {
            words += outlook.Thinned.Low >= Hygroscopy.Most - 1e-9
                ? " It draws water: of the oldest package a gram may hold a quarter less than when it was opened, or more."
                : Say($" It draws water: a gram may hold {outlook.Thinned.Low:0 %} to {outlook.Thinned.High:0 %} less than when it was opened.");
        }

        return words;
    }

    private static FeedingCost CostOf(SupplyRequest request)
    {
        var prices = request.Cupboard.ToDictionary(item => item.Product.Id, item => item.Product.PricePerKg);
        var names = request.Cupboard.ToDictionary(item => item.Product.Id, item => item.Product.Name);
        decimal Of(CanUse can) => can.Grams.Sum(pair => (prices.GetValueOrDefault(pair.Key) ?? 0) * (decimal)pair.Value / 1000);
        var cans = request.Past;
        var all = cans.Sum(Of);
        var (litres, feeds) = ((decimal)cans.Sum(can => can.Litres), cans.Sum(can => can.Plants));
        return new FeedingCost(
            cans.Count > 0 ? all / cans.Count : 0,
            litres > 0 ? all / litres : 0,
            feeds > 0 ? all / feeds : 0,
            [.. cans.GroupBy(can => new DateOnly(can.On.Year, can.On.Month, 1)).OrderBy(month => month.Key).Select(month => (month.Key, month.Sum(Of), PlantsIn(month) is var plants and > 0 ? month.Sum(Of) / plants : 0))],
            [.. cans.SelectMany(can => can.Grams.Where(pair => pair.Value > 0).Select(pair => pair.Key)).Distinct().Where(id => prices.GetValueOrDefault(id) is null).Select(id => names.GetValueOrDefault(id, "a product no longer in the cupboard"))]);
    }

    // Two cans of one walk feed different plants: where it is known which, each is counted once.
    private static int PlantsIn(IEnumerable<CanUse> month) => month.All(can => can.Fed is not null)
        ? month.SelectMany(can => can.Fed!).Distinct().Count()
        : month.Max(can => can.Plants);

    private static double Quantile(double[] values, double quantile)
    {
        Array.Sort(values);
        return values[Math.Clamp((int)Math.Round(quantile * (values.Length - 1)), 0, values.Length - 1)];
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    /// <summary>The lots of one product in one draw.</summary>
    private sealed class Shelf(SupplyItem item, DateOnly today)
    {
        private readonly List<(double Grams, DateOnly? BestBefore)> _lots = [.. item.Lots.Where(lot => lot.BestBefore is not { } date || date >= today).OrderBy(lot => lot.BoughtOn ?? DateOnly.MinValue).Select(lot => (lot.GramsLeft, lot.BestBefore))];

        public DateOnly? RanOutOn { get; private set; }

        public void Take(double grams, DateOnly on)
        {
            for (var i = 0; i < _lots.Count && grams > 0; i++)
            {
                if (_lots[i].BestBefore is { } date && date < on)
                {
                    continue;
                }

                var taken = Math.Min(grams, _lots[i].Grams);
                _lots[i] = (_lots[i].Grams - taken, _lots[i].BestBefore);
                grams -= taken;
            }

            if (grams > 1e-9 && RanOutOn is null)
            {
                RanOutOn = on;
            }
        }

        public double WastedBy(DateOnly day) => _lots.Where(lot => lot.BestBefore is { } date && date < day).Sum(lot => lot.Grams);
    }
}
