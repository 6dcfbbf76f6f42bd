using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

// The walk: what was seen since the last one, what is poured, what the pens say.
internal sealed partial class SixYearScenario
{
    private const int LastDrawnMonths = 15;

    private int _round;
    private int _photos;

    private IEnumerable<NewFact> Round(DateOnly day)
    {
        var roundId = NewId();
        _round++;
        yield return Fact(roundId, new RoundBegun(roundId, day), id: NewId());
        foreach (var fact in Cupboard(day).Concat(Pens(day)))
        {
            yield return fact;
        }

        var here = _plants.Where(plant => plant.IsHere).ToList();
        var feeds = new List<StoryPlant>();
        foreach (var plant in here.OrderBy(plant => _places[plant.Plant.Place].WalkOrder).ThenBy(plant => plant.Plant.Number))
        {
            foreach (var fact in Looked(plant, day).Concat(Sampled(plant, day)))
            {
                Pass(8);
                yield return fact;
            }

            if (MediumOf(plant, day) is { } drawn)
            {
                yield return drawn;
            }

            if (FeedDue.DaysOver(plant.Plant.PotNow, [], day) is null)
            {
                continue;
            }

            Pass(6);
            if (Skipped(plant, day) is { } reason)
            {
                yield return Fact(plant.Id, new PlantSkipped(plant.Id, roundId, reason, null));
            }
            else if (Plainly(plant, day) is { } plain)
            {
                if (plain == Pouring.Leach && RunoffOf(plant, day) is { } runoff)
                {
                    yield return runoff;
                }

                yield return Given(plant, roundId, plain, null, day);
            }
            else
            {
                feeds.Add(plant);
            }
        }

        var letter = 'A';
        foreach (var recipe in Recipes(day))
        {
            var served = recipe.Fill(feeds.Where(plant => recipe.Wants.Contains(plant.Plant.Want) && !IsOnTrial(plant, day) == recipe.GramsPerLitre.All(dose => dose.Key != "bloom")).Select(plant => plant.Plant));
            if (served.Count == 0)
            {
                continue;
            }

            var can = _cans.Write(recipe, NewId(), (letter++).ToString(), served);
            foreach (var fact in Mixed(can))
            {
                yield return fact;
            }

            foreach (var plant in served.Select(plant => feeds.First(story => story.Id == plant.Id)))
            {
                Pass(25);
                var given = Given(plant, roundId, Pouring.Feed, can, day);
                yield return given;
                if (Believed(plant, can, given.Id, day) is { } believed)
                {
                    yield return believed;
                }
            }

            if (day.AddDays(7) <= _today)
            {
                // The rest went down the drain, but for the last can's.
                Pass(30);
                yield return Fact(can.Card.Id, new CanPoured(can.Card.Id, [], 0));
            }
        }

        Pass(60);
        yield return Fact(roundId, new RoundEnded(roundId, null));
    }

    /// <summary>Why a plant that is due gets nothing.</summary>
    private SkipReason? Skipped(StoryPlant plant, DateOnly day)
    {
        if (plant.Life.Rests(day) && plant.States.Any(state => state is PlantState.DryRest or PlantState.CoolRest))
        {
            // Now and then a little against shrivelling.
            return plant.States.Contains(PlantState.DryRest) || plant.World.MediumShare > 0.35 ? SkipReason.Resting : null;
        }

        return plant.Plant.PotNow.ReservoirLitres > 0 ? plant.World.ReservoirShare > 0.45 ? SkipReason.StillFull : null
            : plant.World.MediumShare > 0.75 ? SkipReason.StillFull : null;
    }

    private Pouring? Plainly(StoryPlant plant, DateOnly day)
    {
        if (plant.Life.Rests(day))
        {
            return Pouring.PlainWater;
        }

        plant.Waterings++;
        if (day >= _start.AddDays((int)(365.25 * Truth.Of("leach_from_year"))) && (plant.LastLeach is null || day >= plant.LastLeach.Value.AddDays(35)) && plant.Dice.Share() < 0.6)
        {
            return Pouring.Leach;
        }

        return plant.Waterings % 6 == 5 ? Pouring.PlainWater : null;
    }

    private NewFact Given(StoryPlant plant, Guid roundId, Pouring what, DemoCan? can, DateOnly day)
    {
        var pot = plant.Plant.PotNow;
        var millilitres = what == Pouring.Leach ? Math.Round(pot.FeedMillilitres * 2.5) : pot.FeedMillilitres;
        plant.World.Pour(millilitres, can?.TrulyMolPerKgWater ?? _waters.Rain.MolPerKgWater, throughMedium: what == Pouring.Leach);
        if (what == Pouring.Leach)
        {
            plant.LastLeach = day;
            plant.World.Pour(pot.ReservoirLitres * 1000, _waters.Rain.MolPerKgWater, throughMedium: false);
        }

        plant.Plant.FedOn(day);
        return Fact(plant.Id, new PlantGiven(plant.Id, roundId, what, can?.Card.Id, can is null ? _waters.Rain.Id : null, millilitres));
    }

    /// <summary>What the program would have believed of the root when the can was poured: its own pot model at its defaults, which knows nothing of the truth. Of the last walks only.</summary>
    private NewFact? Believed(StoryPlant plant, DemoCan can, Guid feedFactId, DateOnly day) => day < _today.AddDays(-ForecastDays) ? null
        : Fact(plant.Id, _believed.Of([(plant.Id, plant.Plant.PotNow)], can.Card.MolPerKgWater, can.Card.Id, feedFactId)[0], id: _forecastDice.Id(Clock.GetUtcNow()));

    private IEnumerable<NewFact> Mixed(DemoCan can)
    {
        var card = can.Card;
        yield return Fact(card.Id, new CanSaved(card, can.Uses), id: card.Id);
        foreach (var step in card.Steps)
        {
            Pass(40 + 50 * _dice.Share());
            yield return Fact(card.Id, new CanStepDone(card.Id, step.Number));
        }

        Pass(200);
        var (ec, ph) = can.Readings(_dice, _pens.Shown);
        var slip = _dice.Share() < Truth.Of("slip");
        var reading = Fact(card.Id, new CanRead(card.Id, null, slip ? ec / 10 : ec, ph, 20, null));
        yield return reading;
        if (slip)
        {
            Pass(60);
            yield return Fact(card.Id, new CanRead(card.Id, null, ec, ph, 20, "the point was in the wrong place"), corrects: reading.Id);
        }
    }

    /// <summary>What happened on a plant since the last walk, as far as it is noticed.</summary>
    private IEnumerable<NewFact> Looked(StoryPlant plant, DateOnly day)
    {
        foreach (var happening in plant.Life.Take(day))
        {
            // Some things are written down late, by the month.
            var late = happening.Payload is LeafLost && day < _start.AddYears(2) && plant.Dice.Share() < 0.1;
            var when = late ? FactWhen.InMonth(happening.Day.Year, happening.Day.Month, Zone) : happening.Payload is LeafSeen { ThereOnArrival: true } or GrowthSeen { ThereOnArrival: true } ? OnDay(happening.Day) : OnDay(day);
            Guid? corrects = null;
            if (happening.Payload is LeafMeasured measured && plant.Dice.Share() < Truth.Of("slip"))
            {
                var slip = Fact(plant.Id, measured with { LengthMillimetres = measured.LengthMillimetres * 10 }, when);
                yield return slip;
                Pass(40);
                corrects = slip.Id;
            }

            yield return Fact(plant.Id, happening.Payload, when, corrects: corrects);
            if (happening.Payload is BloomDescribed && (_photos < 12 || plant.Dice.Share() < 0.2) && _photos < 44)
            {
                yield return Photo(plant, day);
            }
        }

        var states = plant.Life.States(day, plant.Arrived);
        if (!states.SequenceEqual(plant.States) && (plant.States.Count == 0 || day >= plant.StatesOn.AddDays(10)))
        {
            (plant.States, plant.StatesOn) = (states, day);
            yield return Fact(plant.Id, new PlantStatesSeen(plant.Id, states), OnDay(day));
        }

        if (plant.Dice.Share() < 0.006)
        {
            yield return Noted(plant, day, s_notes[(int)(s_notes.Length * plant.Dice.Share())]);
        }
    }

    private NewFact Photo(StoryPlant plant, DateOnly day)
    {
        _photos++;
        var habit = plant.Life.Habit;
        var picture = DemoPicture.Draw(habit.Kind, plant.Plant.Number, new Dice(_seed ^ ((ulong)_photos * 7919)));
        Pictures[picture.Sha256] = picture.Jpeg;
        return Fact(plant.Id, new PhotoAdded(NewId(), plant.Id, picture.Sha256, picture.Width, picture.Height, picture.Jpeg.Length, "first flowers of the year"), OnDay(day));
    }

    /// <summary>Each pot's reservoir, or what runs out of it, about once a month.</summary>
    private IEnumerable<NewFact> Sampled(StoryPlant plant, DateOnly day)
    {
        if ((plant.Plant.Number + _round) % 9 != 0)
        {
            yield break;
        }

        var (air, pot, dice) = (_weather.At(plant.Plant.Place, day), plant.Plant.PotNow, plant.Dice);
        var wicking = pot.ReservoirLitres > 0;
        if ((wicking ? plant.World.Reservoir(air) : plant.World.Runoff(air)) is not var (ec, ph))
        {
            yield break;
        }

        ec *= 1 + Truth.Of("ec_noise") * dice.Normal();
        ph += Truth.Of("ph_noise") * dice.Normal();
        var read = new ReadingTaken
        {
            ReadingId = NewId(),
            Of = wicking ? ReadingOf.Reservoir : ReadingOf.Runoff,
            PlantId = plant.Id,
            PotId = pot.Id,
            EcMicrosiemensPerCm = Math.Clamp(Math.Round(ec / 10) * 10, 10, 20_000),
            PH = Math.Clamp(Math.Round(ph, 1), 2, 11),
            TemperatureCelsius = Math.Round(air.MeanCelsius - 1, 1),
            LevelShare = wicking ? Math.Clamp(Math.Round(plant.World.ReservoirShare * 20 + 0.6 * dice.Normal()) / 20, 0, 1) : null,
        };
        var slip = dice.Share() < Truth.Of("slip");
        var fact = Fact(plant.Id, slip ? read with { EcMicrosiemensPerCm = read.EcMicrosiemensPerCm / 10 } : read);
        yield return fact;
        if (slip)
        {
            Pass(30);
            yield return Fact(plant.Id, read with { ReadingId = NewId(), Note = "the point was in the wrong place" }, corrects: fact.Id);
        }
    }

    /// <summary>What drips first when a pot with a reservoir is leached from above: the water its roots stood in, which the reservoir says little of.</summary>
    private NewFact? RunoffOf(StoryPlant plant, DateOnly day) =>
        plant.Plant.PotNow.ReservoirLitres == 0 ? null // an open pot is sampled so in any case
            : RootWaterOf(plant, day, new Dice(unchecked((_seed * 7_368_787 + (ulong)plant.Plant.Number) * 1_000_003 + (ulong)day.DayNumber)), null);

    /// <summary>Half-way between two readings of its reservoir a few millilitres are drawn from the medium of a pot that has one; given up <see cref="LastDrawnMonths"/> months ago, since the first that drips at a leach says the same.</summary>
    private NewFact? MediumOf(StoryPlant plant, DateOnly day) =>
        plant.Plant.PotNow.ReservoirLitres == 0 || (plant.Plant.Number + _round) % 9 != 4 || day >= _today.AddMonths(-LastDrawnMonths) ? null
            : RootWaterOf(plant, day, new Dice(unchecked((_seed * 9_176_263 + (ulong)plant.Plant.Number) * 1_000_003 + (ulong)day.DayNumber)), "drawn from the medium with a syringe");

    // With chance of its own, so that nothing else of the story falls otherwise for it.
    private NewFact RootWaterOf(StoryPlant plant, DateOnly day, Dice dice, string? note)
    {
        var air = _weather.At(plant.Plant.Place, day);
        var (ec, ph) = plant.World.Runoff(air);
        var read = new ReadingTaken
        {
            ReadingId = dice.Id(Clock.GetUtcNow()),
            Of = ReadingOf.Runoff,
            PlantId = plant.Id,
            PotId = plant.Plant.PotNow.Id,
            EcMicrosiemensPerCm = Math.Clamp(Math.Round(ec * (1 + Truth.Of("ec_noise") * dice.Normal()) / 10) * 10, 10, 20_000),
            PH = Math.Clamp(Math.Round(ph + Truth.Of("ph_noise") * dice.Normal(), 1), 2, 11),
            TemperatureCelsius = Math.Round(air.MeanCelsius - 1, 1),
            Note = note,
        };
        return Fact(plant.Id, read, id: dice.Id(Clock.GetUtcNow()));
    }

    // Before anything is mixed.
    private IEnumerable<NewFact> Pens(DateOnly day)
    {
        foreach (var (id, said) in _pens.Walk(_round, day, Clock.GetUtcNow()))
        {
            yield return Fact(said.PenId, said, OnDay(day), id);
        }
    }

    // What is used up is bought again; a package lasts two years at the most.
    private IEnumerable<NewFact> Cupboard(DateOnly day)
    {
        if (_round % 104 != 0)
        {
            yield break;
        }

        foreach (var key in _cupboard.Products.Keys.ToList())
        {
            if (key == "phdown" || _round % 208 == 0)
            {
                var bought = _cupboard.BuyAgain(key, NewId(), _dice, day);
                yield return Fact(bought.LotId, bought);
            }
        }
    }

    /// <summary>The house recipes of a day. Before the switch the strong can is short of potassium; two autumns some plants got bloom salt besides.</summary>
    private IEnumerable<DemoRecipe> Recipes(DateOnly day)
    {
        var strong = DemoRecipes.All[0];
        if (day < _start.AddDays((int)(365.25 * Truth.Of("potassium_switch_year"))))
        {
            strong = s_before;
        }

        yield return strong;
        yield return DemoRecipes.All[1];
        yield return s_withBloomSalt;
    }

    private static readonly DemoRecipe s_before = new(DemoRecipes.Vessels[0], ["strong", "steady"], 0.24, [("calnit", 0.34), ("feed", 0.24), ("mgso4", 0.08)]);
    private static readonly DemoRecipe s_withBloomSalt = new(DemoRecipes.Vessels[1], ["strong", "steady"], 0.24, [("calnit", 0.26), ("kno3", 0.10), ("feed", 0.14), ("bloom", 0.10), ("mgso4", 0.06)]);

    /// <summary>Even-numbered plants of shelf 1 in the autumns of the fourth and fifth year.</summary>
    private bool IsOnTrial(StoryPlant plant, DateOnly day) =>
        plant.HomePlace == "shelf 1" && plant.Plant.Number % 2 == 0 && plant.Plant.Want is "strong" or "steady" && day.Month is >= 9 and <= 11 && (day.DayNumber - _start.DayNumber) is > 1096 and < 1826;
}
