using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>How plants stand with viruses, in words; the rules are <see cref="VirusRules"/>.</summary>
internal sealed class VirusWords
{
    // Each plant with its kin, and only kin of which any was ever tested: most of a bench never was.
    private readonly Dictionary<Guid, Dictionary<Guid, VirusHistory>> _kin = [];
    private readonly Dictionary<Guid, int> _numbers;
    private readonly DateOnly _asOf;

    /// <param name="plants">All that may be kin, lost ones too.</param>
    /// <param name="asOf">Later tests are not known yet.</param>
    public VirusWords(IReadOnlyCollection<PlantRow> plants, DateOnly asOf)
    {
        var parents = plants.ToDictionary(plant => plant.Id, plant => plant.ParentPlantId);
        foreach (var family in plants.GroupBy(plant => Root(plant.Id, parents)).Where(family => family.Any(plant => plant.VirusTests.Count > 0)))
        {
            var kin = family.ToDictionary(plant => plant.Id, plant => new VirusHistory(plant.Id, plant.ParentPlantId, plant.ParentPlantId is null ? null : plant.ArrivedOn, plant.VirusTests));
            foreach (var id in kin.Keys)
            {
                _kin[id] = kin;
            }
        }

        (_numbers, _asOf) = (plants.ToDictionary(plant => plant.Id, plant => plant.Number), asOf);
    }

    public VirusStanding Standing(Guid plantId) => _kin.TryGetValue(plantId, out var kin) ? VirusRules.Judge(kin[plantId], kin, _asOf).Standing : VirusStanding.Untested;

    /// <summary>Null where nothing was ever tested.</summary>
    public string? Of(Guid plantId)
    {
        if (!_kin.TryGetValue(plantId, out var kin))
        {
            return null;
        }

        var verdict = VirusRules.Judge(kin[plantId], kin, _asOf);
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
            $"{standing}: {test.Virus}, {FactWords.Of(test.Method)}, {test.When.Earliest:yyyy-MM-dd}{(verdict.OfPlant is { } other ? $", of no. {_numbers[other]}" : "")}");
    }

    // A mother that was forgotten still ties her divisions together.
    private static Guid Root(Guid id, Dictionary<Guid, Guid?> parents)
    {
        for (var seen = new HashSet<Guid> { id }; parents.TryGetValue(id, out var mother) && mother is { } known && seen.Add(known); id = known)
        {
        }

        return id;
    }
}
