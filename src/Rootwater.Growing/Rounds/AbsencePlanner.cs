using System.Globalization;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Rounds;

/// <summary>
/// How long each pot lasts once it is filled, and on which days somebody has to come. Whoever comes gives plain water only: a missed feed
/// harms less than a wrong one (common practice, no source).
/// </summary>
public static class AbsencePlanner
{
    /// <summary>Plans an absence.</summary>
    /// <param name="plants">Those on the bench.</param>
    /// <param name="from">First day away; everything is filled before leaving.</param>
    /// <param name="to">Last day away; on the day after the grower waters again.</param>
    /// <exception cref="ArgumentException"><paramref name="to"/> lies before <paramref name="from"/>.</exception>
    public static AbsencePlan Plan(IEnumerable<PlantOnRound> plants, DateOnly from, DateOnly to)
    {
        if (to < from)
        {
            throw new ArgumentException("An absence cannot end before it begins.", nameof(to));
        }

        var pots = plants.Select(plant => (Plant: plant, Lasts: LastsDays(plant), Rests: Rests(plant))).ToList();
        var thirsty = pots.Where(pot => !pot.Rests && pot.Lasts is not null).ToList();

        // A visit is put off until the first pot would run dry at its near edge, and then fills whatever would not last to the next.
        var visits = new List<DateOnly>();
        var filled = thirsty.ToDictionary(pot => pot.Plant.PlantId, _ => from);
        var waters = thirsty.ToDictionary(pot => pot.Plant.PlantId, _ => new List<DateOnly>());
        while (thirsty.Count > 0)
        {
            var day = thirsty.Min(pot => DryOn(filled[pot.Plant.PlantId], Needs(pot.Plant, pot.Lasts!.Value)));
            if (day > to)
            {
                break;
            }

            // The day before it runs dry, at the earliest the day after leaving or after the last visit.
            var visit = day.AddDays(-1);
            var soonest = (visits.Count > 0 ? visits[^1] : from).AddDays(1);
            visit = visit < soonest ? soonest : visit;
            if (visit > to)
            {
                break;
            }

            visits.Add(visit);
            foreach (var pot in thirsty)
            {
                // Topping up what lasts anyway does no harm and saves a visit.
                filled[pot.Plant.PlantId] = visit;
                waters[pot.Plant.PlantId].Add(visit);
            }
        }

        foreach (var pot in thirsty)
        {
            ThinOut(waters[pot.Plant.PlantId], from, to, Needs(pot.Plant, pot.Lasts!.Value));
        }

        visits.RemoveAll(visit => waters.Values.All(days => !days.Contains(visit)));
        return new AbsencePlan(from, to, [.. pots.Select(pot => Line(pot.Plant, pot.Lasts, pot.Rests, from, to, waters.GetValueOrDefault(pot.Plant.PlantId) ?? []))], visits);
    }

    /// <summary>Days from full to dry; null where the pot model does not know the pot.</summary>
    public static Expected? LastsDays(PlantOnRound plant)
    {
        if (plant.Setup is not { } setup)
        {
            return null;
        }

        var parameters = plant.Parameters ?? PotParameters.Default;
        var litres = setup.Culture == Culture.Wicking ? setup.ReservoirLitres : setup.HeldLitres * (1 - parameters.DryResidueShare);
        double Days(double factor)
        {
            var loss = WaterLoss.Of(setup, plant.Climate, parameters with { WaterLossFactor = parameters.WaterLossFactor * factor }).LitresPerDay;
            return loss <= 0 ? 365 : Math.Min(365, litres / loss);
        }

        return new Expected(Days(1.4), Days(1), Days(1 / 1.4));
    }

    /// <summary>Days it can be left: a reservoir until the near edge of its band; what is meant to dry between two feeds at least as long as its plan leaves it.</summary>
    public static double Needs(PlantOnRound plant, Expected lasts) => plant.Pot.Culture == Culture.Wicking ? lasts.Low : Math.Max(lasts.Low, plant.Pot.FeedEveryDays);

    private static DateOnly DryOn(DateOnly filled, double days) => filled.AddDays(Math.Max(1, (int)Math.Floor(days)));

    /// <summary>Leaves out every visit that this pot can do without.</summary>
    private static void ThinOut(List<DateOnly> days, DateOnly from, DateOnly to, double lasts)
    {
        var last = from;
        for (var i = 0; i < days.Count;)
        {
            var next = i + 1 < days.Count ? days[i + 1] : to.AddDays(1);
            if (DryOn(last, lasts) >= next)
            {
                days.RemoveAt(i);
            }
            else
            {
                last = days[i++];
            }
        }
    }

    private static bool Rests(PlantOnRound plant) => plant.States.Contains(PlantState.DryRest) && (Kinds.Find(plant.Kind)?.Rest is not { State: PlantState.DryRest } rest || rest.Water == RestRation.None);

    private static PotAbsence Line(PlantOnRound plant, Expected? lasts, bool rests, DateOnly from, DateOnly to, IReadOnlyList<DateOnly> days)
    {
        DateOnly? dry = lasts is { } known && DryOn(from, Needs(plant, known)) is var on && on <= to ? on : null;
        var wicking = plant.Pot.Culture == Culture.Wicking;
        var amount = Math.Ceiling((wicking && plant.Setup is { } setup ? setup.ReservoirLitres * 1000 : plant.Pot.FeedMillilitres) / 10) * 10;
        var until = string.Create(CultureInfo.InvariantCulture, $"{amount:0} mL");
        var todo = rests ? "At dry rest: no water."
            : lasts is null ? $"Not reckoned: feel the medium on every visit, plain water up to {until} when dry."
            : days.Count == 0 ? wicking ? "Fill to the mark before leaving; nothing meanwhile." : "Water before leaving; nothing meanwhile."
            : wicking ? $"Plain water to the mark, at most {until}. If it is still full, nothing."
            : $"Plain water, {until}, poured over slowly.";
        if (plant.Quarantine is not null && !rests)
        {
            todo += " Last of all, and touch no other plant after it.";
        }

        return new PotAbsence(plant, rests ? null : lasts, rests ? null : dry, days, todo);
    }
}

/// <summary>What happens while the grower is away.</summary>
/// <param name="From">First day away.</param>
/// <param name="To">Last day away.</param>
/// <param name="Pots">In the order they were given.</param>
/// <param name="Visits">Days on which somebody has to come.</param>
public sealed record AbsencePlan(DateOnly From, DateOnly To, IReadOnlyList<PotAbsence> Pots, IReadOnlyList<DateOnly> Visits);

/// <summary>One pot meanwhile.</summary>
/// <param name="Plant">Its plant.</param>
/// <param name="LastsDays">From full to dry; null at dry rest or where not known.</param>
/// <param name="DryOn">When it needs water at the latest; null where it lasts.</param>
/// <param name="WaterOn">The visits on which it gets water.</param>
/// <param name="Todo">In words.</param>
public sealed record PotAbsence(PlantOnRound Plant, Expected? LastsDays, DateOnly? DryOn, IReadOnlyList<DateOnly> WaterOn, string Todo);
