using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Desks;

/// <summary>What marks on leaves say to a cause sheet: clues that need not be asked any more.</summary>
internal static class LeafLooks
{
    /// <summary>A mark stands until its leaf falls, but one older than this is another story.</summary>
    public const int FreshDays = 365;

    /// <summary>Clues by the marks on one leaf and on the plant's others.</summary>
    /// <param name="growths">Of the plant.</param>
    /// <param name="leafId">The leaf; null for the whole plant.</param>
    /// <param name="today">Marks up to this day.</param>
    public static Dictionary<string, string> Of(IReadOnlyList<Growth> growths, Guid? leafId, DateOnly today)
    {
        var said = new Dictionary<string, string>();
        var all = growths.SelectMany(growth => growth.Leaves.Select(leaf => (Growth: growth, Leaf: leaf, Mark: Fresh(leaf, today)))).ToList();
        var marked = all.Where(each => each.Mark is not null && (each.Leaf.Lost is null || each.Leaf.Id == leafId)).ToList();
        var mark = leafId is { } id ? all.Find(each => each.Leaf.Id == id).Mark : marked.OrderByDescending(each => each.Mark!.When.Latest).Select(each => each.Mark).FirstOrDefault();
        if (mark is null)
        {
            return said;
        }

        said["organ"] = "leaf";
        if (Pattern(mark) is { } pattern)
        {
            said["pattern"] = pattern;
        }

        if (mark.Part == LeafPart.ExposedSide)
        {
            said["exposed"] = "yes";
        }

        if (mark.Sign is LeafSign.Limp or LeafSign.Pleated)
        {
            said["turgor"] = "limp";
        }

        // How old the leaves are that show the same thing.
        var alike = marked.Where(each => Pattern(each.Mark!) == Pattern(mark)).Select(each => each.Leaf.Id).ToHashSet();
        if (LeafAge(growths, alike) is { } age)
        {
            said["leaf-age"] = age;
        }

        return said;
    }

    /// <summary>Whether only the oldest leaf, several old ones, the newest, or leaves of many ages; null where one leaf in the middle leaves it open.</summary>
    private static string? LeafAge(IReadOnlyList<Growth> growths, HashSet<Guid> marked)
    {
        // The oldest growth that still has leaves first; on it the lowest leaf. What is marked counts as there although it may have fallen since.
        var order = growths.OrderBy(growth => growth.Number).SelectMany(growth => growth.Leaves.OrderBy(leaf => leaf.Position))
            .Where(leaf => leaf.Lost is null || marked.Contains(leaf.Id)).Select(leaf => leaf.Id).ToList();
        var places = order.Select((id, i) => (id, i)).Where(each => marked.Contains(each.id)).Select(each => each.i).ToList();
        if (places.Count == 0 || order.Count < 2)
        {
            return null;
        }

        if (places is [0])
        {
            return "oldest";
        }

        if (places.TrueForAll(place => place == order.Count - 1))
        {
            return "newest";
        }

        var oldHalf = places.TrueForAll(place => place < (order.Count + 1) / 2);
        return places.Count < 2 ? null : oldHalf ? "old" : places.Count >= 3 || places.Contains(order.Count - 1) ? "all" : null;
    }

    private static LeafMark? Fresh(Leaf leaf, DateOnly today) =>
        leaf.Marks.Where(mark => mark.When.Earliest <= today && mark.When.Latest >= today.AddDays(-FreshDays)).MaxBy(mark => mark.When.Latest);

    private static string? Pattern(LeafMark mark) => (mark.Sign, mark.Part) switch
    {
        (LeafSign.Yellowing, LeafPart.Tip or LeafPart.Margin) => "margin-tip",
        (LeafSign.Yellowing or LeafSign.Pale, LeafPart.BetweenVeins) or (LeafSign.PaleBetweenVeins, _) => "between-veins",
        (LeafSign.Yellowing, LeafPart.ExposedSide) => "bleached-patch",
        (LeafSign.Yellowing, _) => "even-yellow",
        (LeafSign.Pale, _) => "pale",
        (LeafSign.DryTip, _) => "dry-tips",
        (LeafSign.Streaks, _) => "streaks",
        (LeafSign.Purple, _) => "dark-purple",
        (LeafSign.WaterSoaked, _) => "water-soaked",
        (LeafSign.Sunburn, _) => "bleached-patch",
        (LeafSign.Pleated or LeafSign.Limp, _) => "limp-pleated",
        (LeafSign.Sticky, _) => "sticky-bumps",
        _ => null, // spots, tears and bites are of many kinds
    };
}
