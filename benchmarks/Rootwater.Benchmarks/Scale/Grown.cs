using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Benchmarks.Scale;

/// <summary>One plant of a large bench and what becomes of it.</summary>
internal sealed class Grown(int number, Random random)
{
    private readonly bool _oneStem = number % 2 == 0;
    private readonly List<(Guid Growth, List<Guid> Leaves)> _growths = [];
    private long _ids;
    private int _leaves;
    private Guid? _spike;
    private int _spikeWeeks;

    public int Number { get; } = number;
    public Guid Id { get; } = LargeBench.New(6, number);

    public Guid Pot { get; private set; }

    public IEnumerable<FactPayload> Arrives(Guid place, Guid want)
    {
        yield return new PlantArrived(Id, Number, $"Inventia exemplaris {random.Next(90)}", _oneStem ? "strap-leaved" : "bulbous", _oneStem ? Habit.Monopodial : Habit.Sympodial, new Provenance { Source = "a grower", Price = 12, Currency = "EUR" });
        yield return new PlantDetermined(Id, $"Inventia exemplaris no. {random.Next(90)}", "flower");
        yield return new PlantMoved(Id, place);
        yield return new PlantWantChosen(Id, want);
        yield return Potted();
        yield return Growth();
    }

    public FactPayload OnTheRound(Guid round, Guid can, Guid water, Random chance) => chance.Next(10) switch
    {
        < 6 => new PlantGiven(Id, round, Pouring.Feed, can, null, 100 + chance.Next(200)),
        6 => new PlantGiven(Id, round, Pouring.PlainWater, null, water, 200),
        7 => new PlantGiven(Id, round, Pouring.Leach, null, water, 1500),
        _ => new PlantSkipped(Id, round, SkipReason.StillFull, null),
    };

    /// <summary>What else is told of it in a week: 0.9 facts on average.</summary>
    public IEnumerable<FactPayload> Grows(Random chance, List<Guid> places)
    {
        if (chance.Next(4) == 0)
        {
            yield return new ReadingTaken { ReadingId = NextId(), Of = ReadingOf.Reservoir, PlantId = Id, EcMicrosiemensPerCm = 500 + chance.Next(600), PH = 5.5 + chance.NextDouble(), LevelShare = chance.NextDouble() };
        }

        if (!_oneStem && chance.Next(40) == 0)
        {
            yield return Growth();
        }

        if (chance.Next(12) == 0)
        {
            var (growth, leaves) = _growths[^1];
            var leaf = NextId();
            leaves.Add(leaf);
            yield return new LeafSeen(Id, growth, leaf, ++_leaves, false);
        }

        if (_growths[chance.Next(_growths.Count)].Leaves is { Count: > 0 } some)
        {
            var leaf = some[chance.Next(some.Count)];
            switch (chance.Next(20))
            {
                case 0:
                    yield return new LeafMarked(Id, leaf, LeafSign.Yellowing, LeafPart.Tip, null);
                    break;
                case 1 when some.Count > 3:
                    some.Remove(leaf);
                    yield return new LeafLost(Id, leaf, LeafLoss.Age, null);
                    break;
                case 2 or 3:
                    yield return new LeafMeasured(Id, leaf, 50 + chance.Next(250), 20 + chance.Next(60));
                    break;
            }
        }

        foreach (var payload in Flowers(chance))
        {
            yield return payload;
        }

        switch (chance.Next(50))
        {
            case 0 or 1:
                yield return new PlantStatesSeen(Id, [(PlantState)chance.Next(9)]);
                break;
            case 2:
                yield return new NewRootsSeen(Id, _growths[^1].Growth, 1 + chance.Next(4));
                break;
            case 3:
                yield return new PhotoAdded(NextId(), Id, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(NextId().ToByteArray())), 1600, 1200, 200_000, null);
                break;
            case 4:
                yield return new PestChecked(Id, [], null);
                break;
            case 5:
                yield return new PlantNoted(Id, "leans to the window, turned by a quarter");
                break;
            case 6 when chance.Next(2) == 0:
                yield return new PlantMoved(Id, places[chance.Next(places.Count)]);
                break;
            case 7 when chance.Next(2) == 0:
                yield return Potted();
                break;
        }
    }

    // A spike a year, told of seven times.
    private IEnumerable<FactPayload> Flowers(Random chance)
    {
        if (_spike is not { } spike)
        {
            if (chance.Next(40) == 0)
            {
                (_spike, _spikeWeeks) = (NextId(), 0);
                yield return new SpikeSeen(Id, _growths[^1].Growth, _spike.Value, 20);
            }

            yield break;
        }

        switch (++_spikeWeeks)
        {
            case 3 or 5:
                yield return new SpikeMeasured(Id, spike, 40 * _spikeWeeks, 5);
                break;
            case 8:
                yield return new BloomOpened(Id, spike);
                yield return new BloomDescribed(Id, spike, 5, 60, 50, "honey");
                break;
            case 14:
                yield return new BloomOver(Id, spike);
                yield return new SpikeEnded(Id, spike, SpikeEnd.Flowered, null);
                _spike = null;
                break;
        }
    }

    private GrowthSeen Growth()
    {
        var id = NextId();
        _growths.Add((id, []));
        return new GrowthSeen(Id, id, _growths.Count, _oneStem ? GrowthForm.Stem : GrowthForm.Bulb, false);
    }

    private PlantPotted Potted() => new(Id, new Pot
    {
        Id = Pot = NextId(),
        Culture = Culture.Wicking,
        Medium = "expanded clay",
        MediumLitres = 1,
        ReservoirLitres = 0.3,
        FeedMillilitres = 250,
        FeedEveryDays = 7,
        LastFed = null,
    });

    private Guid NextId() => LargeBench.New(7, (long)Number << 24 | ++_ids);
}
