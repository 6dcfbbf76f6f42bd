using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>Invented lives of a few plants, always the same: one stem, a row of bulbs, a row of canes that shed, a young plant in quarantine, a lost one.</summary>
internal static class FixtureLives
{
    public static readonly DateOnly Today = new(2026, 3, 14);
    public const string Zone = "Europe/Berlin";
    public static readonly Place Shelf = new(Id(900), "shelf 2", 2, "bright, north roof", "12 to 26 °C");
    public static readonly Place Hanging = new(Id(901), "hanging", 3, "brightest", "12 to 30 °C");
    public static readonly Place Apart = new(Id(902), "window, apart", 9, "east window", "room");

    public static Guid Id(int number) => new($"01900000-0000-7000-8000-{number:000000000000}");

    public static IReadOnlyList<PlantLife> All { get; } = [Stem(), Bulbs(), Canes(), Young(), Gone()];

    private static PlantLife Stem()
    {
        var stem = Id(1701);
        var leaves = new List<Leaf>();
        for (var i = 1; i <= 10; i++)
        {
            var there = i <= 3;
            var seen = there ? DaySpan.On(new DateOnly(2021, 5, 8)) : DaySpan.On(new DateOnly(2021, 7, 20).AddDays((i - 4) * 230));
            leaves.Add(new Leaf
            {
                Id = Id(17100 + i),
                GrowthId = stem,
                Position = i,
                ThereOnArrival = there,
                FirstSeen = seen,
                Measures = [new LeafMeasure(seen.Earliest.AddDays(90), 60 + 8 * i, 35), new LeafMeasure(seen.Earliest.AddDays(200), 120 + 6 * i, 55)],
                Marks = i is 1 or 2 or 5 ? [new LeafMark(DaySpan.On(new DateOnly(2024, 1, 10).AddDays(i * 150)), LeafSign.Yellowing, LeafPart.Tip, null)] : [],
                Lost = i switch
                {
                    1 => new LeafEnd(new DaySpan(new DateOnly(2024, 8, 1), new DateOnly(2024, 8, 31)), LeafLoss.Age, null),
                    2 => new LeafEnd(DaySpan.On(new DateOnly(2025, 2, 11)), LeafLoss.Rot, "soft at the base"),
                    _ => null,
                },
            });
        }

        var spikes = new[] { (2022, 7, 5, 2.4), (2023, 9, 6, 2.5), (2024, 11, 7, 2.6), (2026, 4, 0, 0.0) }.Select((year, i) => new Spike
        {
            Id = Id(17200 + i),
            GrowthId = stem,
            FirstSeen = DaySpan.On(new DateOnly(year.Item1 - (i < 3 ? 1 : 0), i < 3 ? 11 : 1, 12)),
            Measures = [new SpikeMeasure(new DateOnly(year.Item1, 1, 20), 60, null), new SpikeMeasure(new DateOnly(year.Item1, 3, 10), 140, i < 3 ? year.Item2 : null)],
            FirstFlower = i < 3 ? DaySpan.On(new DateOnly(year.Item1, 3, 2 + i * 7)) : null,
            LastFlower = i < 3 ? DaySpan.On(new DateOnly(year.Item1, 6, 11)) : null,
            Flowers = i < 3 ? year.Item2 : null,
            FlowerWidthMillimetres = i < 3 ? 28 + i : null,
            Scent = i == 1 ? "faint, of rain on stone" : null,
            Ended = i < 3 ? DaySpan.On(new DateOnly(year.Item1, 7, 1)) : null,
            EndCause = i < 3 ? SpikeEnd.CutOff : null,
        }).ToList();
        var growth = new Growth { Id = stem, Number = 1, Form = GrowthForm.Stem, Begun = null, Leaves = leaves, Spikes = spikes };
        return Life(17, "Phalaenopsis hybrid", "Phalaenopsis equestris", "Phalaenopsis, small flowered", Habit.Monopodial, Shelf, [PlantState.InSpike, PlantState.LeafGrowth], new DateOnly(2021, 5, 8), [growth],
            [.. Enumerable.Range(0, 5).Select(i => new RootsSeen(DaySpan.On(new DateOnly(2021 + i, 8, 3)), stem, 2 + i % 3))]) with
        {
            TakenFromIt = [new PlantRef(Id(36), 36, "Phalaenopsis equestris")],
            WrongArrival = new WrongArrivalView("Phalaenopsis lindenii", "Phalaenopsis hybrid", "kept, half the price back", FactWhen.OnDay(new DateOnly(2021, 5, 8), Zone)),
            SeedParent = "Phalaenopsis equestris",
            PollenParent = "Phalaenopsis equestris",
        };
    }

    private static PlantLife Bulbs()
    {
        var growths = Enumerable.Range(1, 9).Select(n =>
        {
            var begun = n <= 3 ? (DaySpan?)null : DaySpan.On(new DateOnly(2021, 4, 10).AddDays((n - 4) * 330));
            return new Growth
            {
                Id = Id(1400 + n),
                Number = n,
                Form = GrowthForm.Bulb,
                Begun = begun,
                Ended = n == 1 ? DaySpan.On(new DateOnly(2025, 6, 2)) : null,
                EndCause = n == 1 ? "shrivelled" : null,
                Leaves = [new Leaf { Id = Id(14100 + n), GrowthId = Id(1400 + n), Position = 1, ThereOnArrival = begun is null, FirstSeen = begun is { } seen ? DaySpan.On(seen.Earliest.AddDays(40)) : new DaySpan(new DateOnly(2020, 9, 1), new DateOnly(2020, 9, 30)), Lost = n <= 2 ? new LeafEnd(new DaySpan(new DateOnly(2023 + n, 1, 1), new DateOnly(2023 + n, 12, 31)), LeafLoss.Age, null) : null, Marks = n == 3 ? [new LeafMark(DaySpan.On(new DateOnly(2026, 2, 20)), LeafSign.Yellowing, LeafPart.Whole, "from the tip inwards")] : [] }],
                Spikes = n is >= 4 and <= 8 ? [new Spike { Id = Id(14200 + n), GrowthId = Id(1400 + n), FirstSeen = DaySpan.On(begun!.Value.Earliest.AddDays(190)), FirstFlower = DaySpan.On(begun.Value.Earliest.AddDays(240)), LastFlower = DaySpan.On(begun.Value.Earliest.AddDays(262)), Flowers = 2 + n % 3, FlowerWidthMillimetres = 145, Scent = "sweet, strongest at noon", Ended = DaySpan.On(begun.Value.Earliest.AddDays(270)), EndCause = SpikeEnd.Flowered }] : [],
            };
        }).ToList();
        return Life(14, "Cattleya mossiae 'Quay'", "Cattleya mossiae 'Quay'", "unifoliate Cattleya", Habit.Sympodial, Shelf, [PlantState.BulbRipening, PlantState.NewRoots], new DateOnly(2020, 9, 1), growths,
            [.. Enumerable.Range(0, 5).Select(i => new RootsSeen(DaySpan.On(new DateOnly(2021 + i, 7, 1)), Id(1404 + i), null))]) with
        { Arrived = FactWhen.InMonth(2020, 9, Zone) };
    }

    private static PlantLife Canes()
    {
        var growths = Enumerable.Range(1, 7).Select(n =>
        {
            var begun = DaySpan.On(new DateOnly(2019 + n, 4, 20));
            return new Growth
            {
                Id = Id(1800 + n),
                Number = n,
                Form = GrowthForm.Cane,
                Begun = begun.Earliest > Today ? null : begun,
                Leaves = [.. Enumerable.Range(1, 8).Select(leaf => new Leaf { Id = Id(18000 + n * 10 + leaf), GrowthId = Id(1800 + n), Position = leaf, ThereOnArrival = n == 1, FirstSeen = DaySpan.On(begun.Earliest.AddDays(12 * leaf)), Lost = n <= 5 ? new LeafEnd(DaySpan.On(begun.Earliest.AddDays(540 + leaf * 5)), LeafLoss.Shed, null) : null })],
                Spikes = n is >= 2 and <= 5 ? [new Spike { Id = Id(18900 + n), GrowthId = Id(1800 + n), FirstSeen = DaySpan.On(begun.Earliest.AddDays(660)), FirstFlower = DaySpan.On(begun.Earliest.AddDays(700)), LastFlower = DaySpan.On(begun.Earliest.AddDays(722)), Flowers = 12 + n, Ended = DaySpan.On(begun.Earliest.AddDays(725)), EndCause = SpikeEnd.Flowered }] : [],
            };
        }).Where(growth => growth.Begun is not null).ToList();
        return Life(18, "Dendrobium nobile", "Dendrobium nobile", "deciduous Dendrobium", Habit.Sympodial, Hanging, [PlantState.DryRest, PlantState.Sheath], new DateOnly(2020, 4, 1), growths, []);
    }

    private static PlantLife Young() => Life(36, "Oncidium hybrid", null, "Oncidium intergeneric", Habit.Sympodial, Apart, [PlantState.Establishing], new DateOnly(2026, 2, 23),
        [new Growth { Id = Id(3601), Number = 1, Form = GrowthForm.Bulb, Begun = null, Leaves = [.. Enumerable.Range(1, 4).Select(i => new Leaf { Id = Id(36100 + i), GrowthId = Id(3601), Position = i, ThereOnArrival = true, FirstSeen = DaySpan.On(new DateOnly(2026, 2, 23)) })], Spikes = [] }], []);

    private static PlantLife Gone() => Life(9, "Masdevallia veitchiana", "Masdevallia veitchiana", "cool Masdevallia", Habit.Sympodial, Shelf, [], new DateOnly(2022, 3, 1), [], []) with { LostCause = "heat", LostSeen = "leaves fell within a week of 34 °C" };

    private static PlantLife Life(int number, string received, string? determined, string kind, Habit habit, Place place, IReadOnlyList<PlantState> states, DateOnly arrived, IReadOnlyList<Growth> growths, IReadOnlyList<RootsSeen> roots)
    {
        var gone = number == 9;
        var young = number == 36;
        var pot = new Pot { Id = Id(number * 10), Culture = Culture.Wicking, Medium = "expanded clay", MediumLitres = 1.2, ReservoirLitres = 0.35, FeedMillilitres = 260, FeedEveryDays = 6, LastFed = Today.AddDays(-6) };
        var marked = growths.SelectMany(growth => growth.Leaves).FirstOrDefault(leaf => leaf.Marks.Count > 0 && leaf.Lost is null);
        var card = new PlantCard
        {
            Id = Id(number),
            Number = number,
            Name = determined ?? received,
            NameAsReceived = received,
            Kind = kind,
            Habit = habit,
            Place = gone ? null : place,
            Pot = gone ? null : pot,
            States = states,
            LivingLeaves = growths.SelectMany(growth => growth.Leaves).Count(leaf => leaf.Lost is null),
            SpikeMillimetres = number == 17 ? 140 : null,
            DaysOverdue = gone || states.Contains(PlantState.DryRest) ? null : number % 3,
            LastFed = Today.AddDays(-6),
            Trouble = marked is null ? [] : ["old leaf yellowing"],
            Quarantine = young ? new Quarantine(Today.AddDays(-19), 42, "new on the bench", null) : null,
            VirusStatus = young ? "not tested" : "negative by one strip, which is no clearance",
            LostOn = gone ? new DateOnly(2025, 7, 19) : null,
            WantId = Id(800),
        };
        return new PlantLife
        {
            Card = card,
            Arrived = FactWhen.OnDay(arrived, Zone),
            Provenance = new Provenance { Source = "a friend's greenhouse", Price = 18.50m, Currency = "EUR", WildLocality = "coastal hills, as the seller said", RaisedAs = young ? Propagation.Unknown : Propagation.Seedling },
            Names = determined is null ? [] : [new DeterminedName(determined, FactWhen.InMonth(2023, 2, Zone), "in flower, lip and callus against the description")],
            Ancestry = number == 17 ? [new AncestorShare("Phalaenopsis equestris", 1)] : [],
            TakenFromIt = [],
            Growths = growths,
            NewRoots = roots,
            Pots = gone ? [] : [.. arrived.Year < 2024 ? new[] { new PotTime(pot with { Id = Id(number * 10 + 1), Culture = Culture.OpenMix, Medium = "bark" }, arrived, new DateOnly(2023, 8, 12)) } : [], new PotTime(pot, arrived.Year < 2024 ? new DateOnly(2023, 8, 12) : arrived, null)],
            Places = gone ? [] : [.. arrived.Year < 2024 ? new[] { new PlaceTime(Hanging.Id, Hanging.Name, arrived, new DateOnly(2022, 11, 3)) } : [], new PlaceTime(place.Id, place.Name, arrived.Year < 2024 ? new DateOnly(2022, 11, 3) : arrived, null)],
            StatesOverTime = [.. states.Count == 0 ? [] : new[] { new StatesTime(arrived, [PlantState.Establishing]), new StatesTime(arrived.AddDays(120), states) }],
            Quarantines = card.Quarantine is { } now ? [now] : [new Quarantine(arrived, 42, "new on the bench", arrived.AddDays(44))],
            VirusTests = young ? [] : [new VirusTest(DaySpan.On(arrived.AddDays(14)), "CymMV", VirusTestMethod.Strip, VirusTestResult.Negative, null)],
            PestChecks = [new PestCheck(DaySpan.On(arrived.AddDays(7)), young ? ["scale"] : [], null)],
            Given = [],
            Readings = [],
            Photos = number == 17 ? [.. Enumerable.Range(0, 5).Select(i => new PhotoView(Id(17900 + i), Id(17), new DateTime(2021 + i, 6, 1, 9, 30, 0), i == 0 ? "as it came" : null, 1200, 900, 120_000, "00"))] : [],
            Notes = [new NoteLine(DaySpan.On(arrived.AddDays(100)), "The wick had slipped out of the reservoir."), new NoteLine(new DaySpan(new DateOnly(arrived.Year + 1, 1, 1), new DateOnly(arrived.Year + 1, 12, 31)), "Grew little that year.")],
            LeafCounts = [],
        };
    }
}
