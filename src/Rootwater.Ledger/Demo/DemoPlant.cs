using System.Globalization;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>A row of plants.csv on its way through the scenario.</summary>
internal sealed class DemoPlant(IReadOnlyDictionary<string, string> row, Guid id, Guid potId)
{
    public Guid Id { get; } = id;
    public int Number { get; } = int.Parse(row["number"], CultureInfo.InvariantCulture);
    public string Name => row["determined"].Length > 0 ? row["determined"] : row["as_received"];
    public string Place { get; private set; } = row["place"];
    public string AsReceived => row["as_received"];
    public string Kind => row["kind"];
    public Habit Habit => Enum.Parse<Habit>(row["habit"]);

    /// <summary>Null where the table names none.</summary>
    public string? Determined => row["determined"].Length > 0 ? row["determined"] : null;
    public string Evidence => row["evidence"];
    public string Want => row["want"];
    public IReadOnlyList<PlantState> States { get; } = [.. row["states"].Split('|').Select(Enum.Parse<PlantState>)];

    public Pot PotNow { get; private set; } = new()
    {
        Id = potId,
        Culture = Enum.Parse<Culture>(row["culture"]),
        Medium = row["medium"],
        MediumLitres = Figure(row["medium_litres"]),
        ReservoirLitres = Figure(row["reservoir_litres"]),
        FeedMillilitres = Figure(row["feed_ml"]),
        FeedEveryDays = int.Parse(row["every_days"], CultureInfo.InvariantCulture),
        LastFed = null,
    };

    public void PutInto(Pot pot) => PotNow = pot;

    public void StandAt(string place) => Place = place;

    public void FedOn(DateOnly day) => PotNow = PotNow with { LastFed = day };

    public IEnumerable<FactPayload> Payloads(IReadOnlyDictionary<string, Guid> places, DemoBand bands)
    {
        yield return new PlantArrived(Id, Number, row["as_received"], row["kind"], Enum.Parse<Habit>(row["habit"]));
        if (row["determined"].Length > 0)
        {
            yield return new PlantDetermined(Id, row["determined"], row["evidence"]);
        }

        yield return new PlantStatesSeen(Id, States);
        yield return new PlantMoved(Id, places[Place]);
        yield return new PlantWantChosen(Id, bands.Wants[Want].Id);
        yield return new PlantPotted(Id, PotNow);
    }

    /// <summary>As exactly as the table says: a day, a month or a year.</summary>
    public FactWhen Arrived(string zone)
    {
        var parts = row["arrived"].Split('-').Select(part => int.Parse(part, CultureInfo.InvariantCulture)).ToArray();
        return parts.Length switch
        {
            3 => FactWhen.OnDay(new DateOnly(parts[0], parts[1], parts[2]), zone),
            2 => FactWhen.InMonth(parts[0], parts[1], zone),
            _ => FactWhen.InYear(parts[0], zone),
        };
    }

    /// <summary>Within the last two years, and not before it came.</summary>
    public DateOnly PottedOn(DateOnly toldOn, Dice dice)
    {
        var potted = toldOn.AddDays(-(int)(20 + 700 * dice.Share()));
        var came = DateOnly.FromDateTime(Arrived("UTC").Latest);
        return potted > came ? potted : came < toldOn ? came : toldOn;
    }

    private static double Figure(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
