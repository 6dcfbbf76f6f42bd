using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Hosts;

/// <summary>Plants of one kind with leaves that come and go on stated days. Figures are made up.</summary>
public sealed class ManyLeaves
{
    public const string Kind = "Phalaenopsis species";

    private readonly List<NewFact> _facts = [];
    private readonly Dictionary<int, (Guid Plant, Guid Growth, int Leaves)> _plants = [];

    public IReadOnlyList<NewFact> Facts => _facts;

    public Guid IdOf(int number) => _plants[number].Plant;

    public ManyLeaves Plant(int number, string arrived = "2021-01-01", string kind = Kind)
    {
        var plant = Guid.CreateVersion7();
        _facts.Add(Told(plant, new PlantArrived(plant, number, $"Plant no. {number}", kind, Habit.Monopodial), arrived));
        _facts.Add(Growth(plant, out var growth, when: arrived, thereOnArrival: true));
        _plants[number] = (plant, growth, 0);
        return this;
    }

    public ManyLeaves Leaf(int number, string seen, string? lost = null, LeafLoss cause = LeafLoss.Age, bool thereOnArrival = false)
    {
        var (plant, growth, leaves) = _plants[number];
        _plants[number] = (plant, growth, leaves + 1);
        _facts.Add(Entries.Leaf(plant, growth, out var leaf, leaves + 1, seen, thereOnArrival));
        if (lost is not null)
        {
            _facts.Add(Told(plant, new LeafLost(plant, leaf, cause, null), lost));
        }

        return this;
    }

    public ManyLeaves Repotted(int number, string when)
    {
        var plant = _plants[number].Plant;
        _facts.Add(Told(plant, new PlantPotted(plant, new Pot { Id = Guid.CreateVersion7(), Culture = Culture.Wicking, Medium = "expanded clay", MediumLitres = 1, ReservoirLitres = 0.3, FeedMillilitres = 250, FeedEveryDays = 7, LastFed = null }), when));
        return this;
    }
}
