using System.Globalization;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>An invented bench in memory for tests of the pages alone: its numbers are made up and stand for nothing. The real desks are tested with the whole program.</summary>
public sealed class FixtureBench : IMixingDesk, ICupboardDesk, IWaterDesk, IPotDesk
{
    private readonly Dictionary<Guid, SavedCan> _cans = [];

    /// <summary>Plants, facts, readings and the year.</summary>
    public FixturePlants Plants { get; } = new();

    /// <summary>How long a plan takes; long enough to be cancelled where a test wants that.</summary>
    public TimeSpan PlanTakes { get; set; } = TimeSpan.FromMilliseconds(300);

    /// <summary>Thrown by whatever is asked next, until it is taken away.</summary>
    public Exception? Fault { get; set; }

    public static Product CalciumNitrate { get; } = new() { Id = Guid.Parse("01900000-0000-7000-8000-000000000001"), Name = "Calcium nitrate 15.5-0-0 + 26.5 CaO", Kind = ProductKind.Salt, MolPerKg = ComponentAmounts.From((Component.Calcium, 4.7), (Component.Nitrate, 10.3), (Component.Ammonium, 0.9)), Hazards = Hazards.Oxidiser };
    public static Product Feed { get; } = new() { Id = Guid.Parse("01900000-0000-7000-8000-000000000002"), Name = "Orchid feed 14-4-12 with Ca and Mg", Kind = ProductKind.Fertilizer, MolPerKg = ComponentAmounts.From((Component.Potassium, 2.5), (Component.Nitrate, 2.5)), LabelText = "14-4-12" };
    public static Product Acid { get; } = new() { Id = Guid.Parse("01900000-0000-7000-8000-000000000003"), Name = "Phosphoric acid 24 %", Kind = ProductKind.Acid, MolPerKg = ComponentAmounts.From((Component.Hydrogen, 7.3), (Component.Phosphate, 2.4)), DensityKgPerLitre = 1.14, Hazards = Hazards.CorrosiveAcid };

    private static readonly WaterSource s_rain = new() { Id = Guid.Parse("01900000-0000-7000-8000-000000000011"), Name = "Rain barrel", MolPerKgWater = ComponentAmounts.From((Component.Calcium, 5e-5), (Component.Carbonate, 1e-4)), AvailableLitres = 80, Notes = ["Magnesium was not measured: taken as 0.3 mg/L (0.1 to 0.9), estimated."] };
    private static readonly WaterSource s_tap = new() { Id = Guid.Parse("01900000-0000-7000-8000-000000000012"), Name = "Hard tap water", MolPerKgWater = ComponentAmounts.From((Component.Calcium, 2.3e-3), (Component.Carbonate, 4.1e-3)) };

    private readonly List<SupplyItem> _cupboard =
    [
        new(CalciumNitrate, [new Lot { Id = Guid.CreateVersion7(), ProductId = CalciumNitrate.Id, GramsLeft = 812, BoughtOn = new DateOnly(2025, 3, 2) }]),
        new(Feed, [new Lot { Id = Guid.CreateVersion7(), ProductId = Feed.Id, GramsLeft = 240 }, new Lot { Id = Guid.CreateVersion7(), ProductId = Feed.Id, GramsLeft = 1000 }]),
        new(Acid, [new Lot { Id = Guid.CreateVersion7(), ProductId = Acid.Id, GramsLeft = 570 }]),
    ];

    private static readonly Portion[] s_portions = [.. Enumerable.Range(0, 9).Select(i => new Portion { PlantId = new Guid(i + 1, 0, 0, new byte[8]), Number = 11 + i, PlantName = i % 2 == 0 ? "Cattleya walkeriana" : "Dendrobium kingianum", Place = i < 6 ? "Shelf 2" : "Hanging", Millilitres = i < 6 ? 250 : 180, WalkOrder = i })];

    private static readonly WantGroup s_group = new()
    {
        Name = "New roots, wicking clay",
        PourPH = new Band(5.6, 5.8, 6.0),
        Portions = s_portions,
        Want = new Want { Name = "new roots", FeedMgPerLitre = new Dictionary<Nutrient, Band>(), TotalNitrogenMgPerLitre = new Band(60, 80, 110), EcMicrosiemensPerCm = new Band(500, 700, 900), RootPH = new Band(6.0, 6.2, 6.6), Source = "fixture" },
    };

    public Task<BenchToday> GetBenchTodayAsync(DateOnly? asOf = null, CancellationToken cancel = default) => Or(() => new BenchToday
    {
        BenchName = "The lean-to",
        AsOf = new DateOnly(2026, 3, 14),
        Due = [new DueGroup(s_group, "The usual clay pot's forecast, held at pH 6.0 to 6.6 for seven days.", [.. s_portions.Select(p => new DuePlant(p.PlantId, p.Number, p.PlantName, p.Place, new DateOnly(2026, 3, 7), 7, p.Number == 12 ? 2 : 0))])],
        NotDue = 27,
        Waters = [s_rain, s_tap],
        Cupboard = _cupboard,
        Vessels = [new Vessel("5 L can", 5), new Vessel("2 L can", 2)],
        Tools = new Tools(),
        Leftovers = [],
    });

    public async Task<PlanOutcome> PlanAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        Throw();
        var until = DateTime.UtcNow + PlanTakes;
        while (DateTime.UtcNow < until)
        {
            progress?.Report(new PlanProgress("Trying two cans", 1 - (until - DateTime.UtcNow) / PlanTakes, 0.2));
            await Task.Delay(50, cancel);
        }

        return new PlanOutcome
        {
            Plan = new Plan { Cans = [NewCan()], Concentrates = [], Cost = 0.34m, RelativeGap = 0.012, Took = TimeSpan.FromMilliseconds(210), GramsLeftAfter = _cupboard.ToDictionary(item => item.Product.Id, item => item.GramsLeft - 2) },
            Unmet = [new UnmetWant("New roots, wicking clay", "magnesium", 8, 10, 25, "mg/L", "magnesium sulfate in the cupboard would meet it.")],
        };
    }

    public async Task<IReadOnlyList<TradeOffPoint>> TradeOffAsync(PlanChoices choices, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        await PlanAsync(choices, progress, cancel);
        return
        [
            new TradeOffPoint { MostCans = 1, Cans = 1, Topped = 0, Unmet = 3, PlantsUnmet = 2, Outside = 0.7, Left = ["New roots, wicking clay: magnesium, calcium, EC"], Cost = 0.34m, RelativeGap = 0.01 },
            new TradeOffPoint { MostCans = 2, Cans = 2, Topped = 1, Unmet = 0, PlantsUnmet = 0, Outside = 0, Left = [], Cost = 0.41m, RelativeGap = 0 },
        ];
    }

    private static CanPlan NewCan() => new()
    {
        Id = Guid.CreateVersion7(),
        Letter = "A",
        Vessel = "5 L can",
        Litres = 5,
        Steps =
        [
            Step(1, MixStepKind.Water, "Rain barrel", 3.8, "L", "The soft water first; it carries little alkalinity.", 22, 6.6),
            Step(2, MixStepKind.Water, "Hard tap water", 1.2, "L", "Brings 0.9 meq/L of alkalinity, and calcium.", 160, 7.9),
            Step(3, MixStepKind.EarlyAcid, "Phosphoric acid 24 %", 1.0, "mL", "Most of it now, before calcium: calcium never meets phosphate at high pH.", 190, 6.2, Acid.Id, ["Acid into water, never the reverse. Gloves and goggles.", "Never with bleach. The label and local rules prevail."]),
            Step(4, MixStepKind.Product, "Calcium nitrate 15.5-0-0 + 26.5 CaO", 1.2, "g", "Before sulfate and phosphate; stir until clear.", 460, 6.2, CalciumNitrate.Id, ["Keep from anything that burns."]),
            Step(5, MixStepKind.Product, "Orchid feed 14-4-12 with Ca and Mg", 2.0, "g", "Stir until clear.", 830, 6.1, Feed.Id),
            Step(6, MixStepKind.Trim, "Phosphoric acid 24 %", 0.2, "mL", "To trim, after 5 minutes.", 834, 5.8, Acid.Id, ["Acid into water, never the reverse. Gloves and goggles."]),
        ],
        MolPerKgWater = ComponentAmounts.From((Component.Calcium, 1.2e-3), (Component.Nitrate, 3e-3)),
        MgPerLitre = NutrientAmounts.From((Nutrient.NitrateNitrogen, 70), (Nutrient.Calcium, 60)),
        EcMicrosiemensPerCm = new Expected(790, 830, 870),
        EcOnPenMicrosiemensPerCm = 815,
        PH = new Expected(5.6, 5.8, 6.0),
        PHAfterADay = 6.1,
        PHInBalanceWithAir = 6.9,
        AlkalinityMilliequivalentsPerLitre = 0.22,
        ClosestMineral = "brushite",
        WorstSaturationIndex = -1.1,
        Serves =
        [
            new ServedGroup(s_group.Name, s_portions,
            [
                new BandResult("nitrogen", "mg/L", new Band(60, 80, 110), 84, 80, 88), new BandResult("magnesium", "mg/L", new Band(10, 15, 25), 8, 7.5, 8.5),
                new BandResult("calcium", "mg/L", new Band(40, 60, 90), 62, 59, 65), new BandResult("EC", "µS/cm", new Band(500, 700, 900), 830, 790, 870), new BandResult("pH as poured", "pH", new Band(5.6, 5.8, 6.0), 5.8, 5.6, 6.0),
            ]),
        ],
        Cost = 0.34m,
        AgeLimit = null,
    };

    private static MixStep Step(int number, MixStepKind kind, string what, double amount, string unit, string reason, double ec, double pH, Guid? product = null, IReadOnlyList<string>? cautions = null) => new()
    {
        Number = number,
        Kind = kind,
        What = what,
        Amount = amount,
        Unit = unit,
        Reason = reason,
        ProductId = product,
        Cautions = cautions ?? [],
        EcMicrosiemensPerCm = new Expected(ec * 0.95, ec, ec * 1.05),
        PH = new Expected(pH - 0.2, pH, pH + 0.2),
        ClosestMineral = "brushite",
        WorstSaturationIndex = -1.2,
    };

    public Task<SavedCan> SaveCanAsync(CanPlan can, CancellationToken cancel = default) => Or(() => _cans.TryGetValue(can.Id, out var kept) ? kept : _cans[can.Id] = new SavedCan { Id = can.Id, Card = can, State = CanState.Mixing, MixedOn = new DateOnly(2026, 3, 14), DoneSteps = [], Readings = [], LitresLeft = can.Litres });

    public Task<SavedCan?> GetCanAsync(Guid canId, CancellationToken cancel = default) => Or(() => _cans.GetValueOrDefault(canId));

    public Task<IReadOnlyList<CanSummary>> ListCansAsync(int most = 50, CancellationToken cancel = default) => Or<IReadOnlyList<CanSummary>>(() => [.. _cans.Values.Reverse().Select(can => new CanSummary
    {
        Id = can.Id,
        Letter = can.Card.Letter,
        Vessel = can.Card.Vessel,
        Litres = can.Card.Litres,
        MixedOn = can.MixedOn,
        State = can.State,
        Steps = can.Card.Steps.Count,
        StepsDone = can.DoneSteps.Count,
        Plants = 9,
        EcMicrosiemensPerCm = can.Card.EcMicrosiemensPerCm,
        PH = can.Card.PH,
        Cost = can.Card.Cost,
        LitresLeft = can.LitresLeft,
    })]);

    public Task<SavedCan> TickStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => Keep(_cans[canId] with { DoneSteps = [.. _cans[canId].DoneSteps.Append(stepNumber).Distinct()] }));

    public Task<SavedCan> UndoStepAsync(Guid canId, int stepNumber, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => Keep(_cans[canId] with { DoneSteps = [.. _cans[canId].DoneSteps.Where(done => done != stepNumber)] }));

    public Task<SavedCan> SaveReadingAsync(NewCanReading reading, CancellationToken cancel = default) => Or(() => Keep(_cans[reading.CanId] with { Readings = [.. _cans[reading.CanId].Readings.Where(read => read.Id != reading.Corrects), new CanReading(reading.Id, reading.AfterStep, reading.EcMicrosiemensPerCm, reading.PH, reading.TemperatureCelsius, DateTimeOffset.UnixEpoch, reading.Note)] }));

    public Task<CanVerdict> JudgeAsync(Guid canId, CancellationToken cancel = default) => Or(() =>
    {
        var can = _cans[canId];
        var ec = can.Readings[^1].EcMicrosiemensPerCm ?? 830;
        var off = ec / 830 - 1;
        var agrees = Math.Abs(off) < 0.05;
        return new CanVerdict
        {
            Agrees = agrees,
            Pens = [new PenCheck("EC", "µS/cm", can.Card.EcMicrosiemensPerCm, ec, agrees, agrees ? "agrees" : Math.Abs(off * 100).ToString("0", CultureInfo.InvariantCulture) + (off < 0 ? " % low" : " % high"))],
            CheckFirst = agrees ? [] : ["Grains at the bottom? Stir until clear.", "Filled past 5 L?", "Pen rinsed and warm?"],
            Words = agrees ? "The can is as its card says." : "The EC pen and the card do not agree.",
        };
    });

    public Task<CanRepairResult> RepairAsync(Guid canId, CancellationToken cancel = default) => Or(() => new CanRepairResult
    {
        Additions = [new RepairAddition(CalciumNitrate.Name, CalciumNitrate.Id, null, 0.2, "g", "Brings the calcium that is short.", ["Keep from anything that burns."]), new RepairAddition(Feed.Name, Feed.Id, null, 0.3, "g", "Brings the rest.", [])],
        EcMicrosiemensPerCm = new Expected(795, 832, 869),
        PH = new Expected(5.6, 5.8, 6.0),
        Words = "If all is well, this can is put right with two small doses.",
    });

    public Task<SavedCan> SaveRepairAsync(NewCanRepair repair, CancellationToken cancel = default) => Or(() => Keep(_cans[repair.CanId] with
    {
        Card = _cans[repair.CanId].Card with { Repairs = [.. _cans[repair.CanId].Card.Repairs, new DoneRepair(repair.Id, [.. repair.Added.Select(each => new RepairAddition(CalciumNitrate.Name, each.Id, null, each.Amount, "g", "", []))], [], null!)] },
        ReadBeforeRepair = _cans[repair.CanId].Readings.Count,
    }));

    public Task<SavedCan> UndoRepairAsync(Guid canId, Guid repairId, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => Keep(_cans[canId] with { Card = _cans[canId].Card with { Repairs = [] }, ReadBeforeRepair = 0 }));

    public Task<SavedCan> PourAsync(Guid canId, double? litresLeft = null, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => Keep(_cans[canId] with { State = CanState.Poured, LitresLeft = litresLeft ?? 2.96 }));

    public Task<SavedCan> UndoPourAsync(Guid canId, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => Keep(_cans[canId] with { State = CanState.Mixed, LitresLeft = 5 }));

    public Task<IReadOnlyList<BelievedForecast>> BelievedAsync(Guid plantId, CancellationToken cancel = default) => Or<IReadOnlyList<BelievedForecast>>(() => []);

    Task<IReadOnlyList<SupplyItem>> ICupboardDesk.ListAsync(CancellationToken cancel) => Or<IReadOnlyList<SupplyItem>>(() => _cupboard);

    Task<SupplyItem?> ICupboardDesk.GetAsync(Guid productId, CancellationToken cancel) => Or(() => _cupboard.FirstOrDefault(item => item.Product.Id == productId));

    public ProductPreview Preview(NewProduct entry) => Or(() => entry.LabelText?.Contains("112", StringComparison.Ordinal) == true
        ? new ProductPreview { Product = null, MadeOf = [], Problems = [new EntryProblem("Label", "112 %", "what is declared adds to 112 %; a label adds to 100 % at most.")], Warnings = [] }
        : new ProductPreview { Product = Feed with { Id = entry.Id, Name = entry.Name }, MadeOf = ["potassium nitrate 62 %", "ammonium phosphate 8 %"], Problems = [], Warnings = ["No chelator is named for iron; EDTA is assumed."] }).Result;

    public Task<SupplyItem> SaveProductAsync(NewProduct entry, CancellationToken cancel = default) => Or(() =>
    {
        var item = new SupplyItem(Feed with { Id = entry.Id, Name = entry.Name }, []);
        _cupboard.Add(item);
        return item;
    });

    public Task<SupplyItem> AddLotAsync(NewLot lot, CancellationToken cancel = default) => Or(() => _cupboard.First(item => item.Product.Id == lot.ProductId));

    public Task<SupplyItem> CorrectSupplyAsync(Guid lotId, double gramsLeft, string? why = null, Guid? idempotencyKey = null, CancellationToken cancel = default) => Or(() => _cupboard.First(item => item.Lots.Any(lot => lot.Id == lotId)));

    Task<IReadOnlyList<WaterView>> IWaterDesk.ListAsync(CancellationToken cancel) => Or<IReadOnlyList<WaterView>>(() => [View(s_rain), View(s_tap)]);

    Task<WaterView?> IWaterDesk.GetAsync(Guid waterId, CancellationToken cancel) => Or<WaterView?>(() => waterId == s_rain.Id ? View(s_rain) : waterId == s_tap.Id ? View(s_tap) : null);

    public Task<WaterView> SaveWaterAsync(NewWater water, CancellationToken cancel = default) => Or(() => View(s_rain));

    public WaterReportPreview Preview(NewWaterReport report) => Read(s_tap);

    public Task<WaterView> AddReportAsync(NewWaterReport report, CancellationToken cancel = default) => Or(() => View(s_tap));

    private static WaterReportPreview Read(WaterSource source) => new() { Source = source, PH = 7.4, EcMicrosiemensPerCm = 560, AlkalinityMeqPerLitre = 4.1, ChargeImbalancePercent = 2.1, Problems = [], Notes = source.Notes };

    private static WaterView View(WaterSource source) => new() { Id = source.Id, Name = source.Name, AvailableLitres = source.AvailableLitres, PricePerLitre = 0, Source = source, Reports = [new WaterReportView(new NewWaterReport { WaterId = source.Id, SampledOn = new DateOnly(2026, 2, 1), Values = [new ReportedValue("EC", 560, "µS/cm"), new ReportedValue("KH", 11, "°dH")], From = "pen and drops" }, Read(source))] };

    Task<IReadOnlyList<PotView>> IPotDesk.ListAsync(CancellationToken cancel) => Or<IReadOnlyList<PotView>>(() => [.. s_portions.Select(p => new PotView { Id = p.PlantId, PlantId = p.PlantId, PlantNumber = p.Number, PlantName = p.PlantName, Place = p.Place, Medium = "expanded clay", Culture = "wicking", MediumLitres = 0.8, ReservoirLitres = 0.25, FeedEveryDays = 7 })]);

    public Task<RootForecastView> ForecastAsync(Guid potId, CanPlan can, int days = 7, CancellationToken cancel = default) => Or(() => new RootForecastView
    {
        Pot = "Wicking pot of expanded clay, 0.8 L, reservoir 0.25 L",
        Days = 7,
        PHWindow = new Band(6.0, 6.2, 6.6),
        Moments = [.. Enumerable.Range(0, 85).Select(i => i * 2.0).Select(h => new RootMoment(h, Around(5.8 + 0.7 * (1 - Math.Exp(-h / 70)), 0.03 + h / 1200), Around(830 + h * 2.2, 15 + h / 4), 0.25 - h / 1000))],
        ShareInWindow = new Expected(0.76, 0.84, 0.90),
        Corrected = "Corrected by what the last forecasts of such pots were off by: pH: 1.4 times as wide, moved by +0.2 within a week (31 readings); EC: 1.2 times as wide (31 readings).",
        LeachDueInDays = 19,
        BestPourPH = 5.9,
        BestStrength = 0.92,
        Assumptions = ["16 °C, 70 % humidity", "Carbon dioxide in the pot ten times that of the air"],
    });

    public Task<RootForecastView> ForecastGroupAsync(DueGroup group, CanPlan can, int days = 7, CancellationToken cancel = default) => ForecastAsync(Guid.Empty, can, days, cancel);

    private static Expected Around(double value, double half) => new(value - half, value, value + half);

    private SavedCan Keep(SavedCan can)
    {
        can = can with { State = can.State is CanState.Poured ? CanState.Poured : can.NextStep is null ? CanState.Mixed : CanState.Mixing };
        return _cans[can.Id] = can;
    }

    private Task<T> Or<T>(Func<T> answer)
    {
        Throw();
        return Task.FromResult(answer());
    }

    private void Throw()
    {
        if (Fault is { } fault)
            throw fault;
    }
}
