using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Rounds;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads the bench for a day in a handful of queries.</summary>
internal static class BenchReader
{
    public static async Task<BenchRow> BenchAsync(LedgerContext db, CancellationToken cancel) =>
        await PlainRows.BenchAsync(db, cancel) ?? throw new EntryException("bench", null, "nothing is kept here yet: start the demo bench, or open your own");

    public static async Task<BenchToday> TodayAsync(LedgerContext db, DateOnly? asOf, TimeProvider clock, CancellationToken cancel) =>
        await TodayAsync(db, asOf, clock, await StandingAsync(db, cancel), cancel);

    public static async Task<BenchToday> TodayAsync(LedgerContext db, DateOnly? asOf, TimeProvider clock, IReadOnlyList<Standing> standing, CancellationToken cancel)
    {
        var bench = await BenchAsync(db, cancel);
        var day = asOf ?? BenchClock.DayAt(clock.GetUtcNow(), bench.Zone);
        var wanted = await WantsAsync(db, cancel);
        var wants = wanted.ToDictionary(want => want.Id);
        // Who is due for feed is the walk's to say; who gets plain water today needs no can.
        var duties = (await RoundReader.PlanAsync(db, standing, wanted, day, null, cancel)).Stops.Where(stop => stop.Duty.Act == RoundAct.Feed).ToDictionary(stop => stop.Plant.PlantId, stop => stop.Duty);
        var due = standing
            .Where(plant => plant.Plant.WantId is not null && duties.ContainsKey(plant.Plant.Id))
            .Select(plant => (plant, Over: (int?)(day.DayNumber - duties[plant.Plant.Id].DueSince!.Value.DayNumber)))
            .ToList();
        return new BenchToday
        {
            BenchName = bench.Name,
            AsOf = day,
            Due =
            [
                .. due.GroupBy(pair => (WantId: pair.plant.Plant.WantId!.Value, pair.plant.Pot.Culture, pair.plant.Pot.Medium))
                    .Select(group => Group(wants[group.Key.WantId].Want, group.Key.Culture, group.Key.Medium, [.. group.Select(pair => (pair.plant, pair.Over!.Value))], db.Learned))
                    .OrderBy(group => group.Group.Portions[0].WalkOrder),
            ],
            NotDue = standing.Count - due.Count,
            Waters = await WatersAsync(db, cancel),
            Cupboard = await CupboardAsync(db, cancel),
            HeldBack = await EntriesInLedger.HeldBackAsync(db, cancel),
            Vessels = await PlainSql.ReadAsync(
                db, "SELECT name, litres, relative_volume_error FROM vessels ORDER BY litres DESC", [], row => new Vessel(row.GetString(0), row.GetDouble(1), row.GetDouble(2)), cancel),
            Tools = bench.Tools,
            Leftovers = await LeftoversAsync(db, day, cancel),
        };
    }

    /// <summary>The plants that stand in pots, in walking order: by place, then by the number on the tag.</summary>
    /// <param name="db">The bench.</param>
    /// <param name="cancel">Stops reading.</param>
    /// <param name="only">This plant alone when not null; its place on the walk is then not known.</param>
    public static async Task<List<Standing>> StandingAsync(LedgerContext db, CancellationToken cancel, Guid? only = null)
    {
        // Three plain queries, put together here: EF Core would compile one over three tables at every start of a command.
        var pots = (await PlainRows.StandingPotsAsync(db, only, cancel)).ToLookup(pot => pot.PlantId);
        var places = (await PlainRows.PlacesAsync(db, cancel)).ToDictionary(place => place.Id);
        return
        [
            .. (await PlainRows.LivingPlantsAsync(db, only, cancel))
                .SelectMany(plant => pots[plant.Id].Select(pot => new Placed(plant, pot, plant.PlaceId is { } at ? places.GetValueOrDefault(at) : null)))
                .OrderBy(row => row.Place?.WalkOrder ?? int.MaxValue).ThenBy(row => row.Plant.Number)
                .Select((row, index) => new Standing(row.Plant, row.Pot, row.Place?.Name ?? "no place", index + 1)),
        ];
    }

    private sealed record Placed(PlantRow Plant, PotRow Pot, PlaceRow? Place);

    public static Task<List<WantRow>> WantsAsync(LedgerContext db, CancellationToken cancel) => PlainRows.WantsAsync(db, cancel);

    public static async Task<List<SupplyItem>> CupboardAsync(LedgerContext db, CancellationToken cancel)
    {
        var lots = (await PlainRows.LotsAsync(db, cancel)).ToLookup(lot => lot.ProductId);
        return [.. (await PlainRows.ProductsAsync(db, cancel)).OrderBy(product => product.Name, StringComparer.Ordinal).Select(product => Supply(product, lots[product.Id]))];
    }

    /// <summary>A product with its lots, the one to use first at the head: opened before unopened, oldest first.</summary>
    public static SupplyItem Supply(ProductRow product, IEnumerable<LotRow> lots) => new(product.Product,
    [
        .. lots.OrderBy(lot => lot.OpenedOn ?? DateOnly.MaxValue).ThenBy(lot => lot.BoughtOn ?? DateOnly.MaxValue).ThenBy(lot => lot.Id).Select(lot => lot.ToLot()),
    ]);

    private static async Task<List<WaterSource>> WatersAsync(LedgerContext db, CancellationToken cancel)
    {
        var waters = await PlainRows.WatersAsync(db, cancel);
        var reports = (await PlainRows.WaterReportsAsync(db, cancel)).ToLookup(report => report.WaterId);
        return
        [
            .. waters.OrderBy(water => water.Name, StringComparer.Ordinal)
                .Select(water => (water, Report: Newest(reports[water.Id])))
                .Where(pair => pair.Report is not null)
                .Select(pair => Source(pair.water, pair.Report!)),
        ];
    }

    public static WaterReportRow? Newest(IEnumerable<WaterReportRow> reports) =>
        reports.OrderByDescending(report => report.SampledOn).ThenByDescending(report => report.Position).FirstOrDefault();

    public static WaterSource Source(WaterRow water, WaterReportRow report) => report.Source with
    {
        Id = water.Id,
        Name = water.Name,
        AvailableLitres = water.AvailableLitres,
        PricePerLitre = water.PricePerLitre,
    };

    private static async Task<List<Leftover>> LeftoversAsync(LedgerContext db, DateOnly day, CancellationToken cancel) =>
    [
        .. (await PlainSql.ReadAsync(
            db, "SELECT id, letter, mixed_on, poured_on, litres_left, card FROM cans WHERE poured_on IS NOT NULL AND litres_left > 0.001 ORDER BY position DESC LIMIT 10", [],
            row => new Left(row.GetGuid(0), row.GetString(1), row.Day(2), row.Day(3), row.GetDouble(4), row.GetString(5)), cancel))
            .Where(can => can.PouredOn <= day)
            .Select(can => (Can: can, Card: FactJson.Read<CanPlan>(can.Card)))
            .Select(each => new Leftover(
                each.Can.Id, $"can {each.Can.Letter} of {each.Can.MixedOn:yyyy-MM-dd}", each.Can.LitresLeft, each.Card.MolPerKgWater, Math.Max(0, day.DayNumber - each.Can.MixedOn.DayNumber))
            {
                BiuretMgPerLitre = each.Card.BiuretMgPerLitre,
            }),
    ];

    private sealed record Left(Guid Id, string Letter, DateOnly MixedOn, DateOnly PouredOn, double LitresLeft, string Card);

    /// <summary>The usual pot of a group: the middle one by size.</summary>
    public static PotRow UsualPot(IEnumerable<Standing> plants)
    {
        var pots = plants.Select(plant => plant.Pot).OrderBy(pot => pot.MediumLitres).ThenBy(pot => pot.Id).ToList();
        return pots[pots.Count / 2];
    }

    private static DueGroup Group(Want want, Culture culture, string medium, IReadOnlyList<(Standing Plant, int Over)> plants, LearnedPots? learned)
    {
        var pot = UsualPot(plants.Select(pair => pair.Plant));
        var (pourPH, from) = PourPHs.For(want, pot, learned?.FindTaught(pot));
        return new DueGroup(
            new WantGroup
            {
                Name = $"{want.Name} · {medium}, {CultureWords.Of(culture)}",
                Want = want,
                PourPH = pourPH,
                Portions =
                [
                    .. plants.Select(pair => new Portion
                    {
                        PlantId = pair.Plant.Plant.Id,
                        Number = pair.Plant.Plant.Number,
                        PlantName = pair.Plant.Plant.CurrentName,
                        Place = pair.Plant.Place,
                        Millilitres = pair.Plant.Pot.FeedMillilitres,
                        WalkOrder = pair.Plant.WalkOrder,
                    }),
                ],
            },
            from,
            [
                .. plants.Select(pair => new DuePlant(
                    pair.Plant.Plant.Id, pair.Plant.Plant.Number, pair.Plant.Plant.CurrentName, pair.Plant.Place, pair.Plant.Pot.LastFedOn, pair.Plant.Pot.FeedEveryDays, pair.Over)),
            ]);
    }
}

/// <summary>A plant in its pot at its place.</summary>
internal sealed record Standing(PlantRow Plant, PotRow Pot, string Place, int WalkOrder);

/// <summary>How a culture is called on pages.</summary>
internal static class CultureWords
{
    public static string Of(Culture culture) => culture switch
    {
        Culture.Wicking => "wicking",
        Culture.Basket => "basket",
        Culture.Mounted => "mounted",
        Culture.OpenMix => "open mix",
        _ => culture.ToString(),
    };
}
