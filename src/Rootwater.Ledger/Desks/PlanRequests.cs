using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>What the grower chose out of what there is, as a request the planner understands.</summary>
public static class PlanRequests
{
    /// <summary>Builds the request. Names and ids that are not there are refused by name.</summary>
    public static PlanRequest From(BenchToday today, PlanChoices choices)
    {
        if (choices.MostCans is < 1 or > 6)
        {
            throw new EntryException("cans", choices.MostCans.ToString(System.Globalization.CultureInfo.InvariantCulture), "1 to 6 cans");
        }

        var groups = Pick(today.Due, due => due.Group.Name, choices.Groups, "group", "a group that is due: ")
            .Select(due => due.Group with { Portions = [.. due.Group.Portions.Where(portion => !choices.LeaveOutPlants.Contains(portion.PlantId))] })
            .Where(group => group.Portions.Count > 0).ToList();
        if (groups.Count == 0)
        {
            throw new EntryException("groups", null, "at least one plant that is due; none is due on this day, or all were left out");
        }

        return new PlanRequest
        {
            Groups = groups,
            Waters = Pick(today.Waters, water => water.Id, choices.Waters, "water", "a water with a report: "),
            Cupboard = Pick(choices.Products is null ? [.. today.Cupboard.Where(item => !today.HeldBack.Contains(item.Product.Id))] : today.Cupboard, item => item.Product.Id, choices.Products, "product", "a product in the cupboard: "),
            Vessels = Pick(today.Vessels, vessel => vessel.Name, choices.Vessels, "vessel", "a vessel of this bench: "),
            Leftovers = Pick(today.Leftovers, left => left.CanId, choices.Leftovers, "leftover", "a can with something left in it: "),
            MostCans = choices.MostCans,
            Tools = today.Tools,
            CanTemperature = choices.CanTemperature,
            TimeLimit = choices.TimeLimit,
        };
    }

    private static List<T> Pick<T, TKey>(IReadOnlyList<T> all, Func<T, TKey> key, IReadOnlyCollection<TKey>? chosen, string field, string accepted) where TKey : notnull
    {
        if (chosen is null)
        {
            return [.. all];
        }

        var known = all.Select(key).ToHashSet();
        var unknown = chosen.Where(name => !known.Contains(name)).Select(name => new EntryProblem(field, name.ToString(), accepted + string.Join(", ", known))).ToList();
        return unknown.Count == 0 ? [.. all.Where(item => chosen.Contains(key(item)))] : throw new EntryException(unknown);
    }
}
