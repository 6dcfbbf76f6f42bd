using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Rounds;

namespace Rootwater.Growing.Tests.Rounds;

/// <summary>A plant on a shelf, for tests: an invented wicking pot of 0.9 L clay with a reservoir of 0.25 L, fed every 7 days.</summary>
internal static class Shelf
{
    public static readonly DateOnly Today = new(2026, 3, 14);
    public static readonly Band Feed = new(380, 600, 900);

    public static PlantOnRound Plant(int? fedDaysAgo = 7, int number = 14, string kind = "Phalaenopsis species", params PlantState[] states)
    {
        var id = Guid.CreateVersion7();
        DateOnly? fed = fedDaysAgo is { } days ? Today.AddDays(-days) : null;
        return new PlantOnRound
        {
            PlantId = id,
            Number = number,
            Kind = kind,
            States = states,
            WalkOrder = number,
            Pot = new Pot { Id = id, Culture = Culture.Wicking, Medium = "expanded clay", MediumLitres = 0.9, ReservoirLitres = 0.25, FeedMillilitres = 200, FeedEveryDays = 7, LastFed = fed },
            Setup = Setup(id),
            FeedEcMicrosiemensPerCm = Feed,
            Entries = fed is { } day ? [new PouredIn(day, RoundAct.Feed, 0.2, 600)] : [],
        };
    }

    public static PotSetup Setup(Guid id, double leaf = 0.03) =>
        new() { Id = id, Culture = Culture.Wicking, Medium = Media.Default, MediumLitres = 0.9, ReservoirLitres = 0.25, LeafAreaSquareMetres = leaf };

    public static PlantOnRound With(this PlantOnRound plant, params PotEntry[] more) => plant with { Entries = [.. plant.Entries, .. more] };

    /// <summary>In air so dry and bright that the reservoir lasts a few days only.</summary>
    public static PlantOnRound InHeat(this PlantOnRound plant) => plant with { Climate = new PotClimate { AirTemperatureCelsius = 32, RelativeHumidityPercent = 30, LightHoursPerDay = 15 } };
}
