using Rootwater.Growing;
using Rootwater.Growing.Bench;

namespace Rootwater.Ledger.Demo.SixYears;

/// <summary>A plant in the story: what the table says of it, its true life and pot, and what is planned for it.</summary>
internal sealed class StoryPlant
{
    public required DemoPlant Plant { get; init; }
    public required LivingPlant Life { get; init; }
    public required Dice Dice { get; init; }

    /// <summary>When it came, as exactly as the table says; in the story from the later of this and the first day.</summary>
    public required DateOnly Arrived { get; init; }

    /// <summary>Pots still to come, by day; the last is the table's.</summary>
    public required Queue<(DateOnly Day, Pot Pot)> Pots { get; init; }
    public required string HomePlace { get; init; }
    public PotWorld World { get; set; } = null!; // from its arrival on
    public IReadOnlyList<PlantState> States { get; set; } = [];
    public DateOnly StatesOn { get; set; }
    public DateOnly? LastLeach { get; set; }
    public DateOnly? QuarantineEnds { get; set; }
    public DateOnly? DeterminedOn { get; set; }
    public DateOnly? Leaves { get; set; }
    public string? LeavesBecause { get; set; }
    public int Waterings { get; set; }
    public bool IsHere { get; set; }
    public Guid Id => Plant.Id;

    /// <summary>Pots a plant went through before the one it stands in: bark in smaller pots first, clay for those that have it now from the second year on.</summary>
    public static Queue<(DateOnly Day, Pot Pot)> PotsOf(Pot now, DateOnly first, DateOnly today, DateOnly clayFrom, Dice dice, Func<Guid> newId)
    {
        var days = new List<DateOnly> { first };
        while (true)
        {
            var next = days[^1].AddDays((int)(560 + 280 * dice.Share()));
            // Mostly in spring, some in the dark months.
            next = dice.Share() < 0.3 ? new DateOnly(next.Year, 11, 1).AddDays((int)(75 * dice.Share())) : new DateOnly(next.Year, 3, 1).AddDays((int)(100 * dice.Share()));
            if (next <= days[^1].AddDays(200))
            {
                next = next.AddYears(1);
            }

            if (next >= today.AddDays(-40))
            {
                break;
            }

            days.Add(next);
        }

        var pots = new Queue<(DateOnly, Pot)>();
        for (var i = 0; i < days.Count; i++)
        {
            var last = i == days.Count - 1;
            var size = Math.Max(0.5, 1 - 0.2 * (days.Count - 1 - i));
            var clay = now.Culture != Culture.Wicking || last || days[i] >= clayFrom || now.Medium == "sphagnum";
            pots.Enqueue((days[i], now with
            {
                Id = last ? now.Id : newId(),
                MediumLitres = Math.Round(now.MediumLitres * size, 2),
                ReservoirLitres = clay ? Math.Round(now.ReservoirLitres * size, 2) : 0,
                FeedMillilitres = Math.Round(now.FeedMillilitres * size / 10) * 10,
                Culture = clay ? now.Culture : Culture.OpenMix,
                Medium = clay ? now.Medium : "bark mix",
                FeedEveryDays = clay ? now.FeedEveryDays : Math.Min(5, now.FeedEveryDays),
            }));
        }

        return pots;
    }
}
