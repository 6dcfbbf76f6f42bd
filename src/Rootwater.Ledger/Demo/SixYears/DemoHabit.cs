using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>When a kind flowers in the demo.</summary>
internal enum SpikeRule
{
    /// <summary>By cool weeks in autumn, on the one stem (Phalaenopsis).</summary>
    CoolWeeks,

    /// <summary>Around a day of the year, on the newest finished growth.</summary>
    NewestGrowth,

    /// <summary>Around a day of the year, on finished growths of the year before, leafless or not (soft canes).</summary>
    LastYearsGrowths,
}

/// <summary>How the plants of a kind grow in the demo. Sizes and seasons are of the order growers know; common practice, no source.</summary>
internal sealed record DemoHabit(
    string Kind, GrowthForm Form, int LeavesPerGrowth, double GrowthsPerYear, int GrowthDay, int LeafEveryDays, int LeafLifeDays, int LeafLength, int LeafWidth,
    SpikeRule Spike, int SpikeDay, double SpikeChance, int SpikesAtOnce, int SpikeLength, double Flowers, int DaysToFlower, int FlowerDays, int FlowerWidth, string Scents)
{
    public IReadOnlyList<string> ScentWords => Scents.Split('|');

    private static readonly DemoHabit[] s_all =
    [
        new("Phalaenopsis", GrowthForm.Stem, 99, 0, 0, 110, 1000, 210, 75, SpikeRule.CoolWeeks, 331, 0.92, 1, 420, 11, 95, 75, 38, "none|faint, of rose|sweet at noon"),
        new("Phalaenopsis hybrid", GrowthForm.Stem, 99, 0, 0, 120, 1100, 290, 110, SpikeRule.CoolWeeks, 333, 0.95, 1, 620, 9, 105, 95, 95, "none"),
        new("unifoliate Cattleya", GrowthForm.Bulb, 1, 1.3, 105, 40, 1900, 250, 55, SpikeRule.NewestGrowth, 110, 0.75, 1, 110, 3, 55, 21, 150, "sweet, of vanilla|heavy, of honey|soapy towards evening"),
        new("bifoliate Cattleya", GrowthForm.Bulb, 2, 1.4, 95, 30, 1500, 130, 45, SpikeRule.NewestGrowth, 225, 0.75, 1, 90, 4, 50, 24, 85, "of cloves|sharp, of lemon peel|sweet"),
        new("soft-caned Dendrobium", GrowthForm.Cane, 8, 1.8, 100, 16, 520, 90, 25, SpikeRule.LastYearsGrowths, 45, 0.85, 3, 35, 3, 40, 28, 65, "of honey|grassy|none"),
        new("deciduous Dendrobium", GrowthForm.Cane, 9, 1.6, 100, 16, 250, 100, 28, SpikeRule.LastYearsGrowths, 60, 0.85, 3, 20, 2, 35, 18, 45, "of violets|faint"),
        new("hard-caned Dendrobium", GrowthForm.Cane, 8, 1.3, 110, 22, 1100, 110, 24, SpikeRule.NewestGrowth, 255, 0.8, 1, 320, 9, 60, 45, 55, "none"),
        new("Australian Dendrobium", GrowthForm.Cane, 5, 1.6, 110, 22, 1300, 95, 26, SpikeRule.NewestGrowth, 50, 0.8, 1, 130, 8, 45, 21, 25, "of hyacinth|sweet on warm days"),
        new("green-leaved Paphiopedilum", GrowthForm.Fan, 6, 1.0, 90, 85, 1300, 260, 30, SpikeRule.NewestGrowth, 290, 0.8, 1, 240, 1, 75, 60, 100, "none|faintly of wax"),
        new("mottled-leaved Paphiopedilum", GrowthForm.Fan, 5, 1.0, 90, 90, 1200, 170, 42, SpikeRule.NewestGrowth, 60, 0.75, 1, 260, 1, 80, 50, 85, "none|faint, of raspberry"),
        new("successive-flowering Paphiopedilum", GrowthForm.Fan, 6, 0.9, 90, 85, 1300, 190, 32, SpikeRule.NewestGrowth, 150, 0.85, 1, 300, 7, 70, 190, 60, "none"),
        new("thin-leaved Oncidium", GrowthForm.Bulb, 3, 1.5, 100, 28, 800, 240, 30, SpikeRule.NewestGrowth, 265, 0.8, 1, 480, 28, 75, 30, 25, "of chocolate|of pepper|none"),
        new("Masdevallia", GrowthForm.Fan, 1, 4.5, 60, 30, 1100, 120, 22, SpikeRule.NewestGrowth, 75, 0.8, 2, 150, 1, 45, 28, 60, "none|faint, of fruit"),
        new("Cattleya hybrid", GrowthForm.Bulb, 1, 1.5, 100, 40, 1800, 240, 60, SpikeRule.NewestGrowth, 285, 0.85, 1, 130, 3, 55, 22, 140, "sweet, of vanilla|strong, of lily"),
    ];

    /// <summary>The habit of a kind in the words of plants.csv.</summary>
    public static DemoHabit Of(string kind) => s_all.FirstOrDefault(habit => habit.Kind == kind)
        ?? s_all.Where(habit => kind.Contains(habit.Kind, StringComparison.Ordinal)).MaxBy(habit => habit.Kind.Length)
        ?? s_all.First(habit => kind.StartsWith(habit.Kind.Split(' ')[0], StringComparison.Ordinal));
}
