using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger;
using Rootwater.Ledger.Facts;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Laws;

/// <summary>A grower who enters whatever comes to mind, in any order, takes half of it back and puts some of it right. A seed gives the same grower again.</summary>
public sealed class RandomHistory(BenchDesks desks, SmallBench small, Guid can, int seed)
{
    private readonly Random _random = new(seed);
    private readonly List<NewFact> _written = [];
    private readonly List<Guid> _growths = [], _leaves = [], _spikes = [], _rounds = [], _places = [small.PlaceId];

    public int Written { get; private set; }
    public int Refused { get; private set; }
    public int Undone { get; private set; }
    public int Corrected { get; private set; }

    public async Task RunAsync(int steps, CancellationToken cancel)
    {
        for (var step = 0; step < steps; step++)
        {
            try
            {
                var chance = _random.NextDouble();
                if (chance < 0.2 && _written.Count > 0)
                {
                    await desks.Facts.UndoAsync(Any(_written).Id, Guid.CreateVersion7(), cancel: cancel);
                    Undone++;
                }
                else if (chance < 0.35 && _written.Count > 0)
                {
                    var wrong = Any(_written);
                    var better = Told(wrong.SubjectId, Other(wrong.Payload), When(), wrong.Id);
                    await desks.Facts.WriteAsync([better], cancel: cancel);
                    _written.Add(better);
                    Corrected++;
                }
                else
                {
                    var facts = Enumerable.Range(0, 1 + _random.Next(3)).Select(_ => Next()).ToList();
                    await desks.Facts.WriteAsync(facts, cancel: cancel);
                    _written.AddRange(facts);
                    Written += facts.Count;
                }
            }
            catch (EntryException)
            {
                Refused++; // nothing of it was saved
            }
        }
    }

    private NewFact Next()
    {
        var plant = _random.Next(2) == 0 ? small.FirstPlant : small.SecondPlant;
        switch (_random.Next(20))
        {
            case 0:
                return Keep(_growths, Growth(plant, out var growth, 1 + _random.Next(9), GrowthForm.Bulb, When(), _random.Next(3) == 0), growth);
            case 1 or 2 or 3 when _growths.Count > 0:
                return Keep(_leaves, Leaf(plant, Any(_growths), out var leaf, 1 + _random.Next(6), When(), _random.Next(4) == 0), leaf);
            case 4 when _leaves.Count > 0:
                return Told(plant, new LeafMarked(plant, Any(_leaves), Value<LeafSign>(), Value<LeafPart>(), null), When());
            case 5 when _leaves.Count > 0:
                return Told(plant, new LeafMeasured(plant, Any(_leaves), 10 + _random.Next(300), null), When());
            case 6 when _leaves.Count > 0:
                return Told(plant, new LeafLost(plant, Any(_leaves), Value<LeafLoss>(), null), When());
            case 7 when _growths.Count > 0:
                return Keep(_spikes, Spike(plant, Any(_growths), out var spike, _random.Next(2) == 0 ? 40 : null, When()), spike);
            case 8 when _spikes.Count > 0:
                return Told(plant, new SpikeMeasured(plant, Any(_spikes), 50 + _random.Next(200), _random.Next(9)), When());
            case 9 when _spikes.Count > 0:
                return Told(plant, _random.Next(3) switch { 0 => new BloomOpened(plant, Any(_spikes)), 1 => new BloomOver(plant, Any(_spikes)), _ => new BloomDescribed(plant, Any(_spikes), 3, null, null, "honey") }, When());
            case 10:
                return Told(plant, new PlantPotted(plant, Pot()), When());
            case 11:
                var round = Guid.CreateVersion7();
                return Keep(_rounds, Told(round, new RoundBegun(round, new DateOnly(2026, 3, 14))), round);
            case 12:
                return Told(plant, new PlantSkipped(plant, _rounds.Count > 0 ? Any(_rounds) : null, Value<SkipReason>(), null), When());
            case 13:
                return Told(plant, new ReadingTaken { ReadingId = Guid.CreateVersion7(), Of = ReadingOf.Reservoir, PlantId = plant, PH = 5 + _random.NextDouble(), EcMicrosiemensPerCm = 100 * _random.Next(30) }, When());
            case 14:
                return Told(plant, new PhotoAdded(Guid.CreateVersion7(), plant, new string("0123456789abcdef"[_random.Next(16)], 64), 800, 600, 1000, null), When());
            case 15:
                return Told(plant, _random.Next(2) == 0 ? new QuarantineBegun(plant, 30, "new") : new QuarantineEnded(plant, null), When());
            case 16:
                return Told(plant, new PlantStatesSeen(plant, [Value<PlantState>()]), When());
            case 17:
                return Told(plant, new PlantDetermined(plant, $"Invented name {_random.Next(5)}", "flower"), When());
            default:
                return Told(plant, Poured(plant), When());
        }
    }

    private PlantGiven Poured(Guid plant) => _random.Next(3) switch
    {
        0 => new PlantGiven(plant, null, Pouring.PlainWater, null, small.WaterId, 100),
        1 => new PlantGiven(plant, _rounds.Count > 0 ? Any(_rounds) : null, Pouring.Leach, null, null, 1000),
        _ => new PlantGiven(plant, null, Pouring.Feed, can, null, Math.Round(1 + 200 * _random.NextDouble(), 4)),
    };

    // The same said otherwise.
    private FactPayload Other(FactPayload payload) => payload switch
    {
        PlantGiven said => Poured(said.PlantId),
        LeafMarked said => said with { Sign = Value<LeafSign>() },
        LeafLost said => said with { Cause = Value<LeafLoss>() },
        PlantPotted said => said with { Pot = Pot() },
        ReadingTaken said => said with { PH = 7 },
        LeafSeen said => said with { Position = 1 + _random.Next(6) },
        _ => payload,
    };

    private Pot Pot() => new()
    {
        Id = Guid.CreateVersion7(),
        Culture = Culture.Wicking,
        Medium = "expanded clay",
        MediumLitres = 1 + _random.Next(3),
        ReservoirLitres = 0.3,
        FeedMillilitres = 200,
        FeedEveryDays = 7,
        LastFed = null,
    };

    private string? When() => _random.Next(6) switch
    {
        0 => null,
        1 => "2025",
        2 => FormattableString.Invariant($"2025-{1 + _random.Next(12):00}"),
        _ => FormattableString.Invariant($"{2025 + _random.Next(2)}-{1 + _random.Next(3):00}-{1 + _random.Next(14):00}"),
    };

    private static NewFact Keep(List<Guid> ids, NewFact fact, Guid id)
    {
        ids.Add(id);
        return fact;
    }

    private T Any<T>(List<T> items) => items[_random.Next(items.Count)];

    private TEnum Value<TEnum>() where TEnum : struct, Enum => Enum.GetValues<TEnum>()[_random.Next(Enum.GetValues<TEnum>().Length)];
}
