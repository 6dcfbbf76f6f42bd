using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>Tells six years at the lean-to, fact by fact, moving its clock along: the truth lives day by day, the grower notices on the round.</summary>
/// <remarks>The same day and seed tell the same facts, ids and pictures included. What is true stands in data/demo/truth.csv; the models in docs/science/demo.md.</remarks>
internal sealed partial class SixYearScenario
{
    public const int Years = 6;
    public const string Zone = "UTC";
    private const int LoggerAfterDays = 420;

    // The whole six years would cost the first start seconds.
    private const int ForecastDays = 365;

    private readonly DateOnly _start, _today;
    private readonly Dice _dice;

    // Forecasts have ids of their own stream: nothing else falls otherwise for them.
    private readonly Dice _forecastDice;
    private readonly ForecastsAsTold _forecasts = new();
    private readonly Desks.BelievedForecasts _believed;
    private readonly ulong _seed;
    private readonly Weather _weather;
    private readonly DemoCupboard _cupboard;
    private readonly DemoWaters _waters;
    private readonly DemoBand _bands;
    private readonly DemoCans _cans;
    private readonly DemoPens _pens;
    private readonly Dictionary<string, Place> _places = [];
    private readonly List<StoryPlant> _plants = [];
    private readonly HashSet<DateOnly> _roundDays;
    private long _sequence;

    public SixYearScenario(DateOnly today, int seed)
    {
        (_today, _start, _seed) = (today, today.AddYears(-Years), (ulong)seed);
        _dice = new Dice(_seed);
        _forecastDice = new Dice(_seed ^ 0xF0CA);
        _trialDice = new Dice(_seed ^ 0x7121A1);
        Clock = new ScenarioClock(new DateTimeOffset(_start.ToDateTime(new TimeOnly(7, 0)), TimeSpan.Zero));
        _weather = new Weather(_start, today.DayNumber - _start.DayNumber + 1, new Dice(_seed ^ 0xA1B2));
        _bands = new DemoBand(NewId);
        _cupboard = new DemoCupboard(NewId, _dice);
        _waters = new DemoWaters(NewId);
        _cans = new DemoCans(_cupboard, _waters, _bands, _dice);
        _pens = new DemoPens(new Dice(_seed ^ 0x9E45), Clock.GetUtcNow());
        _roundDays = RoundDays();
        _believed = new Desks.BelievedForecasts(errors: _forecasts.Errors);
    }

    public ScenarioClock Clock { get; }

    /// <summary>Pictures the facts told so far speak of, by their hash.</summary>
    public Dictionary<string, byte[]> Pictures { get; } = [];

    /// <summary>Over all plants and the days told so far.</summary>
    public (int Lost, double With, double Without) TollOf(string effect) => _plants.Select(plant => plant.Life.Toll.Of(effect))
        .Aggregate((Lost: 0, With: 0.0, Without: 0.0), (sum, toll) => (sum.Lost + toll.Lost, sum.With + toll.With, sum.Without + toll.Without));

    /// <summary>pH that would truly stand at a plant's root some days after a refill, in the air of the last day told; null where it stands in no pot. For tests of what is learned.</summary>
    public double? RootPHAfterRefill(int number, Chemistry.Species.ComponentAmounts feed, int days) => _plants.Find(plant => plant.IsHere && plant.Plant.Number == number) is { } here
        ? here.World.RootPHAfterRefill(feed, days, _weather.At(here.Plant.Place, _today.AddDays(-1)), here.Life.LeafSquareMetres)
        : null;

    /// <summary>EC in the medium, µS/cm, and the means of potassium and nitrogen at the root over 60 days, mg/L, of a plant as it truly stood at the end of the last day told; null where it is not here. For tests of evidence.</summary>
    public (double MediumEc, double Potassium60, double Nitrogen60)? AtRoot(Guid plantId) => _plants.Find(plant => plant.IsHere && plant.Id == plantId) is { World: { } world } ? (world.MediumEc, world.Potassium60, world.Nitrogen60) : null;

    /// <summary>Lazily: the clock stands at each fact's moment as it is handed out.</summary>
    public IEnumerable<NewFact> Facts()
    {
        foreach (var fact in Told())
        {
            Remember(fact);
            _forecasts.Tell(fact, BenchClock.MinuteAt(Clock.GetUtcNow(), Zone).Latest);
            yield return fact;
        }
    }

    private IEnumerable<NewFact> Told()
    {
        foreach (var fact in Opening())
        {
            yield return fact;
        }

        Cast();
        for (var day = _start; day < _today; day = day.AddDays(1))
        {
            Clock.MoveTo(At(day, 7, 15));
            foreach (var fact in Trials(day).Concat(Logger(day)).Concat(Comings(day)))
            {
                yield return fact;
            }

            if (_roundDays.Contains(day))
            {
                Clock.MoveTo(At(day, 9, (int)(30 * _dice.Share())));
                foreach (var fact in Round(day))
                {
                    yield return fact;
                }
            }

            foreach (var plant in _plants.Where(plant => plant.IsHere))
            {
                plant.World.Live(_weather.At(plant.Plant.Place, day), plant.Life.LeafSquareMetres, plant.Life.Rests(day));
                plant.Life.Live(day, _weather, plant.Plant.Place, plant.World);
            }
        }

        // Told last, so that nothing before it falls otherwise.
        foreach (var fact in Sorted())
        {
            yield return fact;
        }
    }

    private IEnumerable<NewFact> Opening()
    {
        foreach (var fact in DemoOpening.Facts(NewId, Zone, _start, _bands, _waters, _cupboard))
        {
            yield return Fact(fact.Subject, fact.Payload, fact.When);
        }

        foreach (var pen in _pens.Kept)
        {
            yield return Fact(pen.Pen.Id, pen, id: _pens.NewId(Clock.GetUtcNow()));
        }

        foreach (var place in Places())
        {
            _places[place.Name] = place;
            yield return Fact(place.Id, new PlaceSet(place));
        }

        foreach (var cross in new[] { new CrossSet(NewId(), "Cattleya Quarry Dawn", "Cattleya intermedia", "Cattleya walkeriana"), new CrossSet(NewId(), "Phalaenopsis Lean-to Pink", "Phalaenopsis equestris", "Phalaenopsis amabilis") })
        {
            yield return Fact(cross.CrossId, cross);
        }
    }

    // A logger was bought in the second year; each morning it gives yesterday.
    private IEnumerable<NewFact> Logger(DateOnly day)
    {
        var yesterday = day.AddDays(-1);
        if (yesterday.DayNumber - _start.DayNumber < LoggerAfterDays)
        {
            yield break;
        }

        foreach (var place in Weather.Places.Take(4))
        {
            // Its battery runs out now and then.
            if (_dice.Share() < 0.97)
            {
                var id = _places[place.Name].Id;
                yield return Fact(id, new AirDay(id, yesterday, ReadingFrom.Logger, Weather.Samples(_weather.At(place.Name, yesterday), _dice)), FactWhen.OnDay(yesterday, Zone));
            }
        }
    }

    // Every three or four days, the last four days ago: today somebody is due.
    private HashSet<DateOnly> RoundDays()
    {
        var days = new HashSet<DateOnly>();
        var (day, gap) = (_today.AddDays(-4), 3);
        for (; day > _start; day = day.AddDays(-gap), gap = 7 - gap)
        {
            days.Add(day);
        }

        return days;
    }

    private IEnumerable<Place> Places() =>
    [
        new(NewId(), "shelf 1", 1, "soft, from the east", "warm, 18 to 26 °C"),
        new(NewId(), "shelf 2", 2, "bright, shaded at noon", "intermediate, 14 to 26 °C"),
        new(NewId(), "shelf 3", 3, "soft, north", "cool, 10 to 22 °C"),
        new(NewId(), "hanging", 4, "brightest, under the ridge", "intermediate, airy"),
        new(NewId(), "quarantine sill", 5, "dim, in the porch", "warm, apart from the rest"),
    ];

    private static DateTimeOffset At(DateOnly day, int hour, int minute) => new(day.ToDateTime(new TimeOnly(hour, minute)), TimeSpan.Zero);

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
