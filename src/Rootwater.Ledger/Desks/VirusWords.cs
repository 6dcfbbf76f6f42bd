using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>How plants stand with viruses, in words; the rules are <see cref="VirusRules"/>.</summary>
internal sealed class VirusWords
{
    private readonly Dictionary<Guid, VirusHistory> _bench;
    private readonly Dictionary<Guid, int> _numbers;
    private readonly DateOnly _asOf;

    /// <param name="plants">All that may be kin, lost ones too.</param>
    /// <param name="asOf">Later tests are not known yet.</param>
    public VirusWords(IReadOnlyCollection<PlantRow> plants, DateOnly asOf)
    {
        _bench = plants.ToDictionary(plant => plant.Id, plant => new VirusHistory(plant.Id, plant.ParentPlantId, plant.ParentPlantId is null ? null : plant.ArrivedOn, plant.VirusTests));
        (_numbers, _asOf) = (plants.ToDictionary(plant => plant.Id, plant => plant.Number), asOf);
    }

    public VirusStanding Standing(Guid plantId) => VirusRules.Judge(_bench[plantId], _bench, _asOf).Standing;

    /// <summary>Null where nothing was ever tested.</summary>
    public string? Of(Guid plantId)
    {
        var verdict = VirusRules.Judge(_bench[plantId], _bench, _asOf);
        if (verdict.Decisive is not { } test)
        {
            return null;
        }

        var standing = verdict.Standing switch
        {
            VirusStanding.Positive => "positive",
            VirusStanding.Doubtful => test.Result == VirusTestResult.Positive ? "doubtful, its kin is positive" : "doubtful, test again",
            VirusStanding.NegativeOnce => "negative, no clearance yet",
            _ => "negative twice, four weeks apart or more",
        };
        return FactWords.Say(
            $"{standing}: {test.Virus}, {FactWords.Of(test.Method)}, {test.When.Earliest:yyyy-MM-dd}{(verdict.OfPlant is { } kin ? $", of no. {_numbers[kin]}" : "")}");
    }
}
