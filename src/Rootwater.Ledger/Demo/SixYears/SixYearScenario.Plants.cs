using System.Globalization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo.SixYears;

// Plants come, are divided, proved to be something, repotted, lost.
internal sealed partial class SixYearScenario
{
    private const int Mother = 15, Division = 37, Lost = 38, KeikiOf = 30, Keiki = 32, Infected = 34, Wrong = 7;

    private static readonly string[] s_sources = ["a society's plant table", "a nursery two valleys on", "a gift from the neighbours", "a grower who gave up", "an exchange by post", "a garden centre's last shelf"];
    private static readonly string[] s_notes =
    [
        "moved a hand's width from the glass", "new shade cloth over the ridge", "labels written anew", "a snail, taken off", "leaves wiped", "stake set", "turned round, it leaned", "ants on the pot, rinsed",
        "smells of earth after the leach", "roots over the rim", "green film in the reservoir, brushed out", "first warm night of the year",
    ];

    private void Cast()
    {
        var shift = _today.Year - 2026;
        var rows = DemoTable.Read("plants.csv").Select(row => new Dictionary<string, string>(row)).ToList();
        rows.Add(new(rows.First(row => row["number"] == Text(Mother))) { ["number"] = Text(Division), ["place"] = "shelf 1", ["medium_litres"] = "0.6", ["reservoir_litres"] = "0.2", ["feed_ml"] = "150" });
        rows.Add(new(rows.First(row => row["number"] == "36")) { ["number"] = Text(Lost), ["as_received"] = "Miltoniopsis hybrid", ["kind"] = "Masdevallia", ["place"] = "shelf 3", ["medium"] = "sphagnum", ["want"] = "light" });
        foreach (var row in rows)
        {
            var number = int.Parse(row["number"], CultureInfo.InvariantCulture);
            var dice = new Dice(_seed * 1000003 + (ulong)number);
            var plant = new DemoPlant(row, NewId(), NewId());
            var arrived = number switch
            {
                Division => _start.AddDays(1180),
                Lost => _start.AddDays(260),
                _ => Shifted(plant.Arrived(Zone).Latest, shift),
            };
            // What the table remembers only by the month or year came on some day of it.
            arrived = arrived < _start ? arrived : arrived.AddDays(-(int)(20 * dice.Share()));
            var first = arrived < _start ? _start : arrived;
            if (first >= _today.AddDays(-45))
            {
                first = arrived = _today.AddDays(-45); // on an early day of the year the last may not have come yet
            }

            var story = new StoryPlant
            {
                Plant = plant,
                Dice = dice,
                Life = new LivingPlant(plant.Id, row["kind"], dice),
                Arrived = arrived,
                HomePlace = row["place"],
                Pots = StoryPlant.PotsOf(plant.PotNow, first, _today, _start.AddDays(500), dice, NewId),
                DeterminedOn = plant.Determined is null ? null : first.AddDays(330),
                Leaves = number switch { Division => _today.AddDays(-420), Lost => _start.AddDays(900), _ => null },
                LeavesBecause = number == Division ? "given away" : "crown rot",
            };
            _plants.Add(story);
        }
    }

    private static DateOnly Shifted(DateTime when, int years) => DateOnly.FromDateTime(when).AddYears(years);

    /// <summary>Whoever comes, goes, is repotted or moved on a day.</summary>
    private IEnumerable<NewFact> Comings(DateOnly day)
    {
        foreach (var story in _plants)
        {
            var first = story.Arrived < _start ? _start : story.Arrived;
            if (!story.IsHere && day >= first && (story.Leaves is null || day < story.Leaves))
            {
                story.IsHere = true;
                foreach (var fact in Arrival(story, day))
                {
                    Pass(20);
                    yield return fact;
                }
            }

            if (!story.IsHere)
            {
                continue;
            }

            while (story.Pots.TryPeek(out var next) && day >= next.Day)
            {
                yield return Repotting(story, day, story.Pots.Dequeue().Pot);
                if (story.Dice.Share() < 0.25)
                {
                    yield return Noted(story, day, Moon(day));
                }
            }

            if (story.QuarantineEnds == day)
            {
                story.QuarantineEnds = null;
                story.Plant.StandAt(story.HomePlace);
                yield return Fact(story.Id, new QuarantineEnded(story.Id, "clean"), OnDay(day));
                yield return Fact(story.Id, new PlantMoved(story.Id, _places[story.HomePlace].Id), OnDay(day));
            }

            if (story.DeterminedOn == day)
            {
                if (story.Plant.Number == Wrong)
                {
                    yield return Fact(story.Id, new WrongArrival(story.Id, story.Plant.AsReceived, story.Plant.Determined!, "half the price back, the plant stays"), OnDay(day));
                }

                yield return Fact(story.Id, new PlantDetermined(story.Id, story.Plant.Determined!, story.Plant.Evidence), OnDay(day));
            }

            if (story.Leaves is { } goes)
            {
                if (story.Plant.Number == Lost && day == goes.AddDays(-30))
                {
                    story.Life.Rot(day);
                }

                if (day == goes)
                {
                    story.IsHere = false;
                    yield return Fact(story.Id, new PlantLost(story.Id, story.LeavesBecause!, story.Plant.Number == Lost ? "brown and soft at the crown, roots sound" : null), OnDay(day));
                }
            }
        }

        foreach (var fact in Virus(day))
        {
            yield return fact;
        }
    }

    private IEnumerable<NewFact> Arrival(StoryPlant story, DateOnly day)
    {
        var (plant, number) = (story.Plant, story.Plant.Number);
        var old = story.Arrived < _start;
        var when = number is Division or Lost || !old ? OnDay(story.Arrived) : Exactly(plant.Arrived(Zone), story.Arrived);
        yield return Fact(plant.Id, new PlantArrived(plant.Id, number, plant.AsReceived, plant.Kind, plant.Habit, ProvenanceOf(story)), when);
        if (plant.Determined is not null && old && story.DeterminedOn is null)
        {
            yield return Fact(plant.Id, new PlantDetermined(plant.Id, plant.Determined, plant.Evidence), when);
        }

        foreach (var parentage in Parentage(plant))
        {
            yield return Fact(plant.Id, parentage, when);
        }

        yield return Fact(plant.Id, new PlantWantChosen(plant.Id, _bands.Wants[plant.Want].Id), OnDay(day));
        story.Life.Arrive(story.Arrived < day ? day : story.Arrived, number == 33 ? 1 : 3, number == 33);
        if (!old && number != Keiki && number != Division)
        {
            plant.StandAt("quarantine sill");
            story.QuarantineEnds = day.AddDays(42);
            yield return Fact(plant.Id, new QuarantineBegun(plant.Id, 42, "new on the bench"), OnDay(day));
        }

        yield return Fact(plant.Id, new PlantMoved(plant.Id, _places[plant.Place].Id), OnDay(day));
        if (number == Division)
        {
            _plants.First(other => other.Plant.Number == Mother).Life.GiveAwayOldest(day, "went with the division, now plant 37");
        }

        if (story.Dice.Share() < 0.4 && old)
        {
            yield return Fact(plant.Id, new PlantNoted(plant.Id, "flowered that year, as far as anybody remembers"), FactWhen.InYear(story.Arrived.Year, Zone));
        }
    }

    private NewFact Repotting(StoryPlant story, DateOnly day, Pot pot)
    {
        story.Plant.PutInto(pot with { LastFed = story.Plant.PotNow.LastFed });
        story.World = new PotWorld(pot, story.World, story.Dice);
        story.World.Pour(pot.FeedMillilitres * 3, _waters.Rain.MolPerKgWater, throughMedium: true);
        story.Life.Repot(day);
        return Fact(story.Id, new PlantPotted(story.Id, pot), OnDay(day));
    }

    private Provenance ProvenanceOf(StoryPlant story)
    {
        var number = story.Plant.Number;
        if (number is Division or Keiki)
        {
            var mother = _plants.First(other => other.Plant.Number == (number == Division ? Mother : KeikiOf));
            return new Provenance { Source = "own bench", RaisedAs = number == Division ? Propagation.Division : Propagation.Keiki, ParentPlantId = mother.Id };
        }

        var price = story.Dice.Share() < 0.75 ? (decimal?)(8 + (int)(30 * story.Dice.Share())) : null;
        return new Provenance
        {
            Source = s_sources[(int)(s_sources.Length * story.Dice.Share())],
            Price = price,
            Currency = price is null ? null : "EUR",
            RaisedAs = story.Plant.Name.Contains("hybrid", StringComparison.Ordinal) ? Propagation.Mericlone : story.Dice.Share() < 0.6 ? Propagation.Seedling : Propagation.Division,
            WildLocality = story.Dice.Share() < 0.2 ? "from seed of a wild stock, the seller said" : null,
        };
    }

    private static IEnumerable<PlantParentage> Parentage(DemoPlant plant)
    {
        (string Seed, string Pollen)? parents = plant.Number switch
        {
            33 => ("Phalaenopsis equestris", "Phalaenopsis equestris var. rosea"),
            34 => ("Phalaenopsis Lean-to Pink", "unknown"),
            35 => ("Cattleya Quarry Dawn", "Cattleya mossiae"),
            36 => ("Paphiopedilum callosum", "unknown"),
            _ => null,
        };
        if (parents is var (seed, pollen))
        {
            yield return new PlantParentage(plant.Id, seed, pollen);
        }
    }

    // Every newcomer is looked over twice and tested once, some twice. One of the old hybrids proved infected.
    private IEnumerable<NewFact> Virus(DateOnly day)
    {
        foreach (var story in _plants.Where(story => story.IsHere))
        {
            var since = day.DayNumber - story.Arrived.DayNumber;
            var (id, number) = (story.Id, story.Plant.Number);
            if (story.Arrived >= _start && since is 9 or 23 && number is not (Division or Keiki))
            {
                IReadOnlyList<string> found = since == 9 && number % 7 == 2 ? ["scale"] : [];
                yield return Fact(id, new PestChecked(id, found, found.Count > 0 ? "two, under the sheath, wiped off" : null), OnDay(day));
            }

            if (story.Arrived >= _start && (since == 12 || (since == 41 && number % 2 == 0)) && number is not (Division or Keiki))
            {
                foreach (var virus in new[] { "CymMV", "ORSV" })
                {
                    yield return Fact(id, new VirusTested(id, virus, VirusTestMethod.Strip, number == 28 && since == 12 && virus == "ORSV" ? VirusTestResult.Unclear : VirusTestResult.Negative, null), OnDay(day));
                }
            }

            if (number == Infected && day == _today.AddDays(-41))
            {
                yield return Fact(id, new PlantNoted(id, "a yellow streak on the new leaf"), OnDay(day));
                yield return Fact(id, new VirusTested(id, "ORSV", VirusTestMethod.Strip, VirusTestResult.Positive, "the new leaf"), OnDay(day));
                yield return Fact(id, new QuarantineBegun(id, 90, "ORSV on the strip; laboratory asked"), OnDay(day));
                yield return Fact(id, new PlantMoved(id, _places["quarantine sill"].Id), OnDay(day));
                story.Plant.StandAt("quarantine sill");
            }

            if (number == Infected && day == _today.AddDays(-20))
            {
                yield return Fact(id, new VirusTested(id, "ORSV", VirusTestMethod.Elisa, VirusTestResult.Positive, "laboratory's letter"), OnDay(day));
            }
        }
    }

    private NewFact Noted(StoryPlant story, DateOnly day, string text) => Fact(story.Id, new PlantNoted(story.Id, text), OnDay(day));

    /// <summary>Days since a new moon of January 2000 by the mean synodic month; accurate to half a day (Meeus, from memory).</summary>
    private static string Moon(DateOnly day)
    {
        var age = (day.DayNumber - new DateOnly(2000, 1, 6).DayNumber) % 29.530588;
        return age is > 7.4 and < 22.1 ? "repotted by a full moon" : "repotted by a new moon";
    }

    private static FactWhen Exactly(FactWhen table, DateOnly arrived) => table.Precision switch
    {
        WhenPrecision.Year => FactWhen.InYear(arrived.Year, Zone),
        WhenPrecision.Month => FactWhen.InMonth(arrived.Year, arrived.Month, Zone),
        _ => FactWhen.OnDay(arrived, Zone),
    };

    private static FactWhen OnDay(DateOnly day) => FactWhen.OnDay(day, Zone);

    private void Pass(double seconds) => Clock.Pass(TimeSpan.FromSeconds(seconds));

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
