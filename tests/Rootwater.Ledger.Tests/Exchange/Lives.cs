using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Exchange;

/// <summary>An invented plant with something in every corner of its life; what is private begins with "secret".</summary>
internal static class Lives
{
    private static readonly Guid s_growth = Guid.CreateVersion7();

    public static PlantLife Full { get; } = new()
    {
        Card = new PlantCard
        {
            Id = Guid.Parse("01900000-0000-7000-8000-000000000012"),
            Number = 12,
            Name = "Cattleya walkeriana f. alba 'Moonrise'",
            NameAsReceived = "Catleya walkeriana alba",
            Kind = "Cattleya",
            Habit = Habit.Sympodial,
            Place = new Place(Guid.CreateVersion7(), "secret shelf", 1, "bright", "warm"),
            Pot = new Pot { Id = Guid.CreateVersion7(), Culture = Culture.Wicking, Medium = "expanded clay", MediumLitres = 1, ReservoirLitres = 0.3, FeedMillilitres = 200, FeedEveryDays = 7, LastFed = null },
            States = [PlantState.LeafGrowth],
            LivingLeaves = 1,
            Trouble = [],
        },
        Arrived = FactWhen.InMonth(2020, 5, "UTC"),
        Provenance = new Provenance { Source = "secret seller", Price = 4711.11m, Currency = "EUR", WildLocality = "secret valley", RaisedAs = Propagation.Division },
        Names = [new DeterminedName("Cattleya walkeriana", FactWhen.InYear(2021, "UTC"), "leaf"), new DeterminedName("Cattleya walkeriana f. alba 'Moonrise'", FactWhen.OnDay(new DateOnly(2022, 4, 2), "UTC"), "flower <b>white</b>")],
        Ancestry = [],
        TakenFromIt = [],
        Growths =
        [
            new Growth
            {
                Id = s_growth,
                Number = 1,
                Form = GrowthForm.Bulb,
                Begun = null,
                Leaves =
                [
                    new Leaf { Id = Guid.CreateVersion7(), GrowthId = s_growth, Position = 1, FirstSeen = DaySpan.On(new DateOnly(2020, 5, 20)), ThereOnArrival = true, Lost = new LeafEnd(DaySpan.On(new DateOnly(2023, 1, 3)), LeafLoss.Age, null) },
                    new Leaf { Id = Guid.CreateVersion7(), GrowthId = s_growth, Position = 2, FirstSeen = DaySpan.On(new DateOnly(2021, 6, 1)), ThereOnArrival = false },
                ],
                Spikes =
                [
                    new Spike
                    {
                        Id = Guid.Parse("01900000-0000-7000-8000-000000000099"),
                        GrowthId = s_growth,
                        FirstSeen = DaySpan.On(new DateOnly(2022, 2, 10)),
                        FirstFlower = DaySpan.On(new DateOnly(2022, 4, 2)),
                        LastFlower = DaySpan.On(new DateOnly(2022, 5, 1)),
                        Flowers = 3,
                        FlowerWidthMillimetres = 84,
                        FlowerHeightMillimetres = 90,
                        Scent = "=vanilla, \"a little\" lemon",
                    },
                ],
            },
        ],
        NewRoots = [],
        Pots = [],
        Places = [],
        StatesOverTime = [],
        Quarantines = [],
        VirusTests = [],
        PestChecks = [],
        Given = [],
        Readings = [],
        Photos = [],
        Notes = [new NoteLine(DaySpan.On(new DateOnly(2021, 1, 1)), "secret words")],
        LeafCounts = [],
    };
}
