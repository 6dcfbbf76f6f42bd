using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>Tells what happened at the lean-to, fact by fact, moving its clock along.</summary>
internal sealed class LeanToScenario
{
    private const string Zone = "UTC"; // every machine knows it; the lean-to stands nowhere in particular
    private const int DaysTold = 91;
    private const int DaysForecast = 21;

    private readonly DateOnly _today;
    private readonly Dice _dice;
    private readonly DemoCupboard _cupboard;
    private readonly DemoWaters _waters;
    private readonly List<DemoPlant> _plants = [];
    private readonly DemoBand _bands;
    private readonly BelievedForecasts _believed = new();
    private long _sequence;

    public LeanToScenario(DateOnly today, int seed)
    {
        _today = today;
        _dice = new Dice((ulong)seed);
        Clock = new ScenarioClock(new DateTimeOffset(today.AddDays(-DaysTold).ToDateTime(new TimeOnly(8, 0)), TimeSpan.Zero));
        _bands = new DemoBand(NewId);
        _cupboard = new DemoCupboard(NewId, _dice);
        _waters = new DemoWaters(NewId);
    }

    public ScenarioClock Clock { get; }

    /// <summary>Lazily: the clock stands at each fact's moment as it is handed out.</summary>
    public IEnumerable<NewFact> Facts() => Start().Concat(Rounds());

    private IEnumerable<NewFact> Start()
    {
        foreach (var fact in DemoOpening.Facts(NewId, Zone, Day, _bands, _waters, _cupboard))
        {
            yield return Fact(fact.Subject, fact.Payload, fact.When);
        }

        var places = new Dictionary<string, Guid>();
        foreach (var place in Places())
        {
            places[place.Name] = place.Id;
            yield return Fact(place.Id, new PlaceSet(place));
        }

        foreach (var row in DemoTable.Read("plants.csv"))
        {
            var plant = new DemoPlant(row, NewId(), NewId());
            _plants.Add(plant);
            foreach (var payload in plant.Payloads(places, _bands))
            {
                yield return Fact(plant.Id, payload, payload switch
                {
                    PlantArrived => plant.Arrived(Zone),
                    PlantPotted => FactWhen.OnDay(plant.PottedOn(Day, _dice), Zone),
                    _ => null,
                });
            }
        }
    }

    private IEnumerable<NewFact> Rounds()
    {
        var writer = new DemoCans(_cupboard, _waters, _bands, _dice);
        foreach (var plant in _plants)
        {
            // Fed from the hose before the ledger began, each on its own day.
            plant.FedOn(Day.AddDays(-(int)(plant.PotNow.FeedEveryDays * _dice.Share())));
        }

        foreach (var day in RoundDays())
        {
            Clock.MoveTo(new DateTimeOffset(day.ToDateTime(new TimeOnly(9, 0)), TimeSpan.Zero));
            var letter = 'A';
            foreach (var recipe in DemoRecipes.All)
            {
                var due = _plants.Where(plant => recipe.Wants.Contains(plant.Want) && FeedDue.DaysOver(plant.PotNow, plant.States, day) is not null).ToList();
                var served = recipe.Fill(due);
                if (served.Count == 0)
                {
                    continue;
                }

                foreach (var fact in Can(writer.Write(recipe, NewId(), (letter++).ToString(), served), served, day))
                {
                    yield return fact;
                }
            }
        }
    }

    // Every three or four days, the last four days ago: today somebody is due.
    private IEnumerable<DateOnly> RoundDays()
    {
        var days = new Stack<DateOnly>();
        for (var (ago, gap) = (4, 3); ago < DaysTold; ago += gap, gap = 7 - gap)
        {
            days.Push(_today.AddDays(-ago));
        }

        return days;
    }

    private IEnumerable<NewFact> Can(DemoCan can, IReadOnlyList<DemoPlant> served, DateOnly day)
    {
        var card = can.Card;
        yield return Fact(card.Id, new CanSaved(card, can.Uses), id: card.Id);
        foreach (var step in card.Steps)
        {
            Clock.Pass(TimeSpan.FromMinutes(1 + 2 * _dice.Share()));
            var tick = Fact(card.Id, new CanStepDone(card.Id, step.Number));
            yield return tick;
            if (_dice.Share() < 0.01)
            {
                Clock.Pass(TimeSpan.FromSeconds(20));
                yield return Fact(card.Id, new CanStepUndone(card.Id, step.Number), corrects: tick.Id);
                Clock.Pass(TimeSpan.FromSeconds(40));
                yield return Fact(card.Id, new CanStepDone(card.Id, step.Number));
            }
        }

        Clock.Pass(TimeSpan.FromMinutes(5));
        var (ec, ph) = can.Readings(_dice);
        var slip = _dice.Share() < 0.04;
        var reading = Fact(card.Id, new CanRead(card.Id, null, slip ? ec / 10 : ec, ph, 20, null));
        yield return reading;
        if (slip)
        {
            Clock.Pass(TimeSpan.FromMinutes(1));
            yield return Fact(card.Id, new CanRead(card.Id, null, ec, ph, 20, "the point was in the wrong place"), corrects: reading.Id);
        }

        Clock.Pass(TimeSpan.FromMinutes(20));
        var poured = Fact(card.Id, new CanPoured(
            card.Id, [.. served.Select(plant => new Poured(plant.Id, plant.PotNow.FeedMillilitres))],
            // The rest of a can went down the drain, but for the last one's.
            day.AddDays(7) > _today ? can.LitresLeft : 0));
        yield return poured;
        // The lean-to forecasts its pots since three weeks ago; each forecast costs a new bench three milliseconds.
        if (day.AddDays(DaysForecast) >= _today)
        {
            foreach (var believed in _believed.Of(served.Select(plant => (plant.Id, plant.PotNow)), card.MolPerKgWater, card.Id, poured.Id))
            {
                yield return Fact(believed.PlantId, believed);
            }
        }

        foreach (var plant in served)
        {
            plant.FedOn(day);
        }
    }

    private IEnumerable<Place> Places() =>
    [
        new(NewId(), "shelf 1", 1, "soft, from the east", "warm, 18 to 26 °C"),
        new(NewId(), "shelf 2", 2, "bright, shaded at noon", "intermediate, 14 to 26 °C"),
        new(NewId(), "shelf 3", 3, "soft, north", "cool, 10 to 22 °C"),
        new(NewId(), "hanging", 4, "brightest, under the ridge", "intermediate, airy"),
    ];

    private DateOnly Day => DateOnly.FromDateTime(Clock.GetUtcNow().UtcDateTime);

    private Guid NewId() => _dice.Id(Clock.GetUtcNow());

    private NewFact Fact(Guid subject, FactPayload payload, FactWhen? when = null, Guid? id = null, Guid? corrects = null) => new()
    {
        Id = id ?? NewId(),
        SubjectId = subject,
        Payload = payload,
        When = when,
        Corrects = corrects,
        Sequence = ++_sequence,
    };
}
