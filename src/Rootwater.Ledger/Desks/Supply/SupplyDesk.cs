using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The cupboard ahead, over the ledger.</summary>
public sealed class SupplyDesk(BenchDatabase database, IFactDesk facts, TimeProvider clock) : ISupplyDesk, IDisposable
{
    private const int HorizonDays = 400, Draws = 300, DrawsOfManyPlants = 120, ManyPlants = 150, MostMonths = 24;

    private readonly SheetInHand<SupplySheet> _sheet = new(
        cancel => database.ReadAsync(async db => (await NewestFact.OfAsync(db, cancel), BenchClock.DayAt(clock.GetUtcNow(), (await BenchReader.BenchAsync(db, cancel)).Zone)), cancel),
        async (day, cancel) =>
        {
            var request = await database.ReadAsync(db => ReadAsync(db, day, cancel), cancel);
            return await Task.Run(() => Sheet(request), cancel);
        });

    public Task<SupplySheet> AheadAsync(CancellationToken cancel = default) => _sheet.WaitAsync(cancel);

    public Task<InHand<SupplySheet>> LookAsync(CancellationToken cancel = default) => _sheet.LookAsync(cancel);

    public Task SetLeadAsync(Guid productId, int days, Guid? idempotencyKey = null, CancellationToken cancel = default) => WriteAsync(productId, new ProductLead(productId, days), idempotencyKey, cancel);

    public Task SetWaysAsync(SupplyWays ways, Guid? idempotencyKey = null, CancellationToken cancel = default) => WriteAsync(Guid.Empty, new SupplySet(ways.UsualLeadDays, ways.BuyForDays, ways.RoomHumidityPercent), idempotencyKey, cancel);

    public Task SpillAsync(Guid lotId, double grams, string? why = null, Guid? idempotencyKey = null, CancellationToken cancel = default) =>
        WriteAsync(lotId, new LotSpilt(lotId, grams, string.IsNullOrWhiteSpace(why) ? null : why.Trim()), idempotencyKey, cancel);

    public Task OpenLotAsync(Guid lotId, DateOnly on, Guid? idempotencyKey = null, CancellationToken cancel = default) => WriteAsync(lotId, new LotOpened(lotId, on), idempotencyKey, cancel);

    public void Dispose() => _sheet.Dispose();

    private Task WriteAsync(Guid subject, FactPayload payload, Guid? id, CancellationToken cancel) =>
        facts.WriteAsync([new NewFact { Id = id ?? Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = subject, Payload = payload }], cancel: cancel);

    private static async Task<Request> ReadAsync(LedgerContext db, DateOnly today, CancellationToken cancel)
    {
        var cupboard = await BenchReader.CupboardAsync(db, cancel);
        var ahead = await RoundsAhead.ReadAsync(db, today, cancel);
        var lots = cupboard.SelectMany(item => item.Lots).ToDictionary(lot => lot.Id, lot => lot.ProductId);
        Guid[] subjects = [Guid.Empty, .. cupboard.Select(item => item.Product.Id), .. lots.Keys];
        var told = await StandingFacts.AboutAsync(db, subjects, cancel, FactKinds.NameOf<ProductLead>(), FactKinds.NameOf<SupplySet>(), FactKinds.NameOf<LotSpilt>());
        var ways = told.Select(each => each.Payload).OfType<SupplySet>().LastOrDefault() is { } set ? new SupplyWays(set.UsualLeadDays, set.BuyForDays, set.RoomHumidityPercent) : new SupplyWays();
        var leads = new Dictionary<Guid, int>();
        foreach (var lead in told.Select(each => each.Payload).OfType<ProductLead>())
        {
            leads[lead.ProductId] = lead.Days;
        }

        return new Request(new SupplyRequest
        {
            Cupboard = cupboard,
            Past = ahead.Past,
            Planned = ahead.Open,
            Rounds = ahead.Rounds,
            Losses = [.. told.Where(each => each.Payload is LotSpilt).Select(each => (On: each.Fact.When.EarliestDay, Spilt: (LotSpilt)each.Payload)).Select(each => new Loss(each.On, lots[each.Spilt.LotId], each.Spilt.Grams))],
            Today = today,
            HorizonDays = HorizonDays,
            LeadDays = leads,
            UsualLeadDays = ways.UsualLeadDays,
            BuyForDays = ways.BuyForDays,
            RoomHumidityPercent = ways.RoomHumidityPercent,
            Draws = ahead.Plants > ManyPlants ? DrawsOfManyPlants : Draws,
        }, ways, ahead.Plants);
    }

    private static SupplySheet Sheet(Request given)
    {
        var (request, ways, plants) = given;
        var outlook = SupplyForecast.Of(request);
        var yearAgo = request.Today.AddDays(-365);
        return new SupplySheet
        {
            AsOf = request.Today,
            Until = request.Today.AddDays(request.HorizonDays),
            Ways = ways,
            Products = [.. outlook.Products.Select(product => View(product, request, ways, yearAgo))],
            Shopping = [.. outlook.Shopping.Select(line => new ToBuy(line.Product.Id, line.Product.Name, line.OrderBy, line.Grams, line.Price, line.Overdue))],
            Cost = new CostOfFeeding(
                outlook.Cost.PerCan, outlook.Cost.PerLitre, outlook.Cost.PerPlantAndFeed,
                [.. outlook.Cost.PerMonth.Reverse().Take(MostMonths).Select(month => new CostOfMonth(month.Month, month.Cost, month.PerPlant))], outlook.Cost.Unpriced),
            Basis = [.. Basis(request, plants)],
        };
    }

    private static ProductSupply View(ProductOutlook product, SupplyRequest request, SupplyWays ways, DateOnly yearAgo)
    {
        var item = request.Cupboard.First(each => each.Product.Id == product.Product.Id);
        return new ProductSupply
        {
            ProductId = product.Product.Id,
            Name = product.Product.Name,
            DensityKgPerLitre = product.Product.DensityKgPerLitre,
            GramsLeft = product.GramsLeft,
            GramsPastDate = product.GramsPastDate,
            GramsPerMonth = product.GramsPerMonth,
            OutFrom = product.RunsOut.Early,
            OutInTheMiddle = product.RunsOut.Middle,
            OutBy = product.RunsOut.Late,
            ChanceOfBeingOut = product.ChanceWithinHorizon,
            OrderBy = product.OrderBy,
            LeadDays = request.LeadDays.GetValueOrDefault(product.Product.Id, ways.UsualLeadDays),
            LeadIsItsOwn = request.LeadDays.ContainsKey(product.Product.Id),
            GramsLikelyWasted = product.GramsLikelyWasted,
            DrawsWaterAbovePercent = Hygroscopy.DrawsAbovePercent(product.Product),
            PricePerKg = product.Product.PricePerKg,
            Lots = [.. item.Lots.Where(lot => lot.GramsLeft > 0).Select(lot => new LotSupply(lot, lot.BestBefore < request.Today, Hygroscopy.Thinned(product.Product, lot.OpenedOn, request.Today, ways.RoomHumidityPercent)))],
            GramsSpilt = request.Losses.Where(loss => loss.ProductId == product.Product.Id && loss.On >= yearAgo).Sum(loss => loss.Grams),
            Words = product.Words,
        };
    }

    private static IEnumerable<string> Basis(SupplyRequest request, int plants)
    {
        if (request.Rounds is not { HasAny: true } rounds)
        {
            yield return request.Past.Count == 0
                ? "No can was mixed from this cupboard yet: nothing can be said of the rounds to come."
                : FactWords.Say($"No plant that stands here was fed from a can of the last year: the {request.Past.Count} cans on record are drawn again as they were.");
            yield break;
        }

        yield return FactWords.Say($"The coming rounds were drawn {request.Draws} times from who is due: each of {plants - rounds.Unfed.Count} plants at the gaps between its own feeds of that season in such a pot, none while it rests, in cans like those of the last year.");
        if (rounds.Spread > 0)
        {
            yield return FactWords.Say($"Such a look ahead, made here every quarter of the last two years, was off by about {Math.Exp(rounds.Spread) - 1:0 %} in the quarter that followed; the bands allow for as much.");
        }

        if (rounds.Unfed.Count > 0)
        {
            yield return FactWords.Say($"{rounds.Unfed.Count} plants have a want that no can served yet; what they will take is not in it.");
        }

        if (request.Planned.Count > 0)
        {
            yield return FactWords.Say($"{request.Planned.Count} can(s) begun and not yet mixed to the end are counted as used today.");
        }

        yield return "Plants that will come or go, new recipes and a changed water are not foreseen.";
    }

    private sealed record Request(SupplyRequest Supply, SupplyWays Ways, int Plants);
}
