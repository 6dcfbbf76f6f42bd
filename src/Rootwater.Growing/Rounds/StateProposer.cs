using System.Globalization;
using Rootwater.Growing.Bench;

namespace Rootwater.Growing.Rounds;

/// <summary>What was logged of a plant, as far as it tells what its growths are doing.</summary>
public sealed record PlantSigns
{
    public required Guid PlantId { get; init; }
    public required int Number { get; init; }
    public required string Kind { get; init; }
    public required IReadOnlyList<PlantState> States { get; init; }

    /// <summary>The day the states were last confirmed; signs from before it have been judged. Null for never.</summary>
    public required DateOnly? StatesOn { get; init; }

    /// <summary>Living growths with their leaves and spikes, and what ended lately.</summary>
    public required IReadOnlyList<Growth> Growths { get; init; }

    /// <summary>The last day on which new roots were seen.</summary>
    public DateOnly? NewRootsOn { get; init; }

    /// <summary>The day it came into its present pot.</summary>
    public DateOnly? PottedOn { get; init; }

    /// <summary>The lowest air temperature of the last seven days, °C; null where none was read.</summary>
    public double? LowestCelsius { get; init; }
}

/// <summary>A state that begins or ends by what was logged; the grower confirms or refuses it.</summary>
public sealed record ProposedState(Guid PlantId, int Number, PlantState State, bool Begins, string Why);

/// <summary>Proposes states from what was logged. Only what was seen after the states were last confirmed proposes anything, so that a refusal holds.</summary>
/// <remarks>How long a sign counts is common practice, without a source.</remarks>
public static class StateProposer
{
    private const int SignDays = 60, RootsRestDays = 90, SettlingDays = 42, GrownDays = 75;

    /// <summary>All proposals for one plant.</summary>
    public static IReadOnlyList<ProposedState> For(PlantSigns plant, DateOnly today, bool southOfEquator = false)
    {
        var proposals = new List<ProposedState>();
        Roots();
        Spikes();
        Leaves();
        Settling();
        Rest();
        return proposals;

        void Roots()
        {
            if (plant.NewRootsOn is { } seen && seen >= today.AddDays(-SignDays))
            {
                Begin(PlantState.NewRoots, seen, $"new roots seen on {Day(seen)}");
                End(PlantState.Establishing, seen, $"new roots seen on {Day(seen)}: it has taken hold");
            }
            else if (Has(PlantState.NewRoots) && (plant.NewRootsOn ?? plant.StatesOn) is { } last && last.AddDays(RootsRestDays) <= today)
            {
                End(PlantState.NewRoots, last.AddDays(RootsRestDays), $"no new roots seen since {Day(last)}");
            }
        }

        void Spikes()
        {
            var all = plant.Growths.SelectMany(growth => growth.Spikes).ToList();
            var open = all.Where(spike => spike.Ended is null && spike.FirstFlower is not null && spike.LastFlower is null).ToList();
            var coming = all.Where(spike => spike.Ended is null && spike.FirstFlower is null).ToList();
            if (coming.Count > 0)
            {
                var newest = coming.Max(spike => spike.FirstSeen.Latest);
                var length = coming.SelectMany(spike => spike.Measures).Where(measure => measure.LengthMillimetres is not null).MaxBy(measure => measure.On)?.LengthMillimetres;
                var size = length is { } mm ? string.Create(CultureInfo.InvariantCulture, $", {mm / 10:0.#} cm") : "";
                Begin(PlantState.InSpike, newest, $"spike seen on {Day(newest)}{size}");
            }
            else if (open.Count > 0)
            {
                var opened = open.Max(spike => spike.FirstFlower!.Value.Latest);
                End(PlantState.InSpike, opened, $"its spike opened on {Day(opened)}");
            }
            else if (all.Count > 0 && all.All(spike => spike.Ended is not null || spike.LastFlower is not null))
            {
                var last = all.Max(spike => (spike.Ended ?? spike.LastFlower)!.Value.Latest);
                End(PlantState.InSpike, last, $"its last spike ended on {Day(last)}");
            }

            if (open.Count > 0)
            {
                var opened = open.Max(spike => spike.FirstFlower!.Value.Latest);
                Begin(PlantState.Flowering, opened, $"first flower on {Day(opened)}");
                End(PlantState.Sheath, opened, $"first flower on {Day(opened)}");
            }
            else if (all.Where(spike => spike.LastFlower is not null).Select(spike => (DateOnly?)spike.LastFlower!.Value.Latest).Max() is { } over)
            {
                End(PlantState.Flowering, over, $"last flower over on {Day(over)}");
            }
        }

        void Leaves()
        {
            if (NewestGrowth() is { } begun && begun >= today.AddDays(-SignDays))
            {
                Begin(PlantState.LeafGrowth, begun, $"a new growth on {Day(begun)}");
                End(PlantState.BulbRipening, begun, $"a new growth on {Day(begun)}");
            }
            else if (NewestLeaf() is { } leaf && leaf >= today.AddDays(-SignDays))
            {
                Begin(PlantState.LeafGrowth, leaf, $"a new leaf on {Day(leaf)}");
            }
            else if (NewestLeaf() is { } old && old.AddDays(GrownDays) <= today && NewestForm() is GrowthForm.Bulb or GrowthForm.Cane)
            {
                var grown = old.AddDays(GrownDays);
                Begin(PlantState.BulbRipening, grown, $"its newest {(NewestForm() == GrowthForm.Bulb ? "bulb" : "cane")} made its last leaf on {Day(old)}");
                End(PlantState.LeafGrowth, grown, $"no new leaf since {Day(old)}");
            }
        }

        void Settling()
        {
            if (plant.PottedOn is { } potted && potted >= today.AddDays(-SettlingDays) && !(plant.NewRootsOn >= potted))
            {
                Begin(PlantState.Establishing, potted, $"potted on {Day(potted)}, no new roots seen since");
            }
        }

        void Rest()
        {
            if (Kinds.Find(plant.Kind)?.Rest is not { } rest)
            {
                return;
            }

            if (!Has(rest.State))
            {
                if (rest.IsSeason(today, southOfEquator) && rest.BeginsAt.Select(sign => Seen(sign)).FirstOrDefault(seen => seen is not null) is { } begin)
                {
                    Begin(rest.State, begin.On, $"{begin.Words}, in the season of its rest: {Rations(rest)}");
                }

                return;
            }

            if (rest.EndsAt.Select(sign => Seen(sign)).FirstOrDefault(seen => seen is { } sign && (plant.StatesOn is null || sign.On > plant.StatesOn)) is { } end)
            {
                End(rest.State, end.On, $"{end.Words}: water again, feed as it grows");
            }
            else if (!rest.IsSeason(today, southOfEquator))
            {
                // The months alone are a weak sign: said as such, and refused once for the season it is not asked again.
                var over = LastMonthEnd(rest, today, southOfEquator);
                End(rest.State, over, "its usual months of rest are over: look for new growth or roots before watering as usual");
            }
        }

        (DateOnly On, string Words)? Seen(RestSign sign)
        {
            var recent = today.AddDays(-SignDays);
            switch (sign)
            {
                case RestSign.LastLeafMade when NewestLeaf() is { } leaf && leaf.AddDays(GrownDays) <= today:
                    return (leaf.AddDays(GrownDays), $"no new leaf since {Day(leaf)}");
                case RestSign.LeavesYellowing:
                    var yellow = plant.Growths.SelectMany(growth => growth.Leaves).SelectMany(leaf =>
                        leaf.Marks.Where(mark => mark.Sign == LeafSign.Yellowing).Select(mark => mark.When.Latest)
                            .Concat(leaf.Lost is { Cause: LeafLoss.Shed } shed ? [shed.When.Latest] : [])).Where(day => day >= recent).ToList();
                    return yellow.Count >= 2 ? (yellow.Max(), "leaves are yellowing or shed") : null;
                case RestSign.GrowthRipe when Has(PlantState.BulbRipening):
                    return (plant.StatesOn is { } on && on > recent ? on.AddDays(1) : today, "its growth is ripe");
                case RestSign.NightsCool when plant.LowestCelsius is { } low && low <= 14:
                    return (today, string.Create(CultureInfo.InvariantCulture, $"nights down to {low:0.#} °C"));
                case RestSign.AfterBloom when LastBloomOver() is { } over && over >= recent:
                    return (over, $"its flowers were over on {Day(over)}");
                case RestSign.NewGrowth when NewestGrowth() is { } begun && begun >= recent:
                    return (begun, $"a new growth on {Day(begun)}");
                case RestSign.NewRoots when plant.NewRootsOn is { } roots && roots >= recent:
                    return (roots, $"new roots on {Day(roots)}");
                case RestSign.Buds when plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.Ended is null).Select(spike => (DateOnly?)spike.FirstSeen.Latest).Max() is { } buds && buds >= recent:
                    return (buds, $"a spike on {Day(buds)}");
                default:
                    return null;
            }
        }

        bool Has(PlantState state) => plant.States.Contains(state);

        void Begin(PlantState state, DateOnly seen, string why)
        {
            if (!Has(state) && !(plant.StatesOn >= seen))
            {
                proposals.Add(new ProposedState(plant.PlantId, plant.Number, state, true, why));
            }
        }

        void End(PlantState state, DateOnly seen, string why)
        {
            if (Has(state) && !(plant.StatesOn >= seen))
            {
                proposals.Add(new ProposedState(plant.PlantId, plant.Number, state, false, why));
            }
        }

        // What was there on arrival says nothing about when it grew.
        DateOnly? NewestGrowth() => plant.Growths.Select(growth => growth.Begun?.Latest).Max();
        DateOnly? NewestLeaf() => plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => !leaf.ThereOnArrival).Select(leaf => (DateOnly?)leaf.FirstSeen.Latest).Max();
        GrowthForm? NewestForm() => plant.Growths.MaxBy(growth => growth.Number)?.Form;
        DateOnly? LastBloomOver() => plant.Growths.SelectMany(growth => growth.Spikes).Select(spike => spike.LastFlower?.Latest).Max();
    }

    /// <summary>What a rest's rations mean, in words.</summary>
    public static string Rations(Rest rest)
    {
        string Of(string what, RestRation ration) => ration switch
        {
            RestRation.None => $"no {what}",
            RestRation.Sparing => $"a little {what} now and then",
            RestRation.Less => $"{what} half as often",
            _ => $"{what} as usual",
        };
        return $"{Of("water", rest.Water)}, {Of("feed", rest.Feed)}";
    }

    private static DateOnly LastMonthEnd(Rest rest, DateOnly today, bool southOfEquator)
    {
        var day = new DateOnly(today.Year, today.Month, 1).AddDays(-1);
        for (var i = 0; i < 12 && !rest.IsSeason(day, southOfEquator); i++)
        {
            day = new DateOnly(day.Year, day.Month, 1).AddDays(-1);
        }

        return day.AddDays(1);
    }

    private static string Day(DateOnly day) => day.ToString("d MMMM", CultureInfo.InvariantCulture);
}
