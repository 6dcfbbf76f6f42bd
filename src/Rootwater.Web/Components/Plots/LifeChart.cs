using Microsoft.Extensions.Localization;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;
using Rootwater.Web.Texts;

namespace Rootwater.Web.Components.Plots;

/// <summary>How a bar ends.</summary>
public enum BarEnd
{
    /// <summary>Still so today.</summary>
    Open,
    Over,

    /// <summary>A leaf that was lost, other than in its season.</summary>
    Lost,
}

/// <summary>A span on the time line of a life.</summary>
/// <param name="From">First day it can be.</param>
/// <param name="To">Last day; today where it lasts.</param>
/// <param name="Tone">root, spike, bloom, water, clay or soft.</param>
/// <param name="End">How it ends.</param>
/// <param name="Words">Shown when pointed at.</param>
public sealed record LifeBar(DateOnly From, DateOnly To, string Tone, BarEnd End, string Words)
{
    /// <summary>It was there before anybody looked: no known beginning.</summary>
    public bool AgeUnknown { get; init; }

    /// <summary>Days on which it may have begun, where that is not one day.</summary>
    public DaySpan? Beginning { get; init; }

    /// <summary>Days on which it may have ended.</summary>
    public DaySpan? Ending { get; init; }

    /// <summary>From when on something was to be seen on it.</summary>
    public DateOnly? MarkedFrom { get; init; }
}

/// <summary>A row of the time line.</summary>
/// <param name="Label">Before it.</param>
/// <param name="Bars">By day.</param>
/// <param name="Group">Rows of one group stand together; a line is drawn where it changes.</param>
public sealed record LifeRow(string Label, IReadOnlyList<LifeBar> Bars, int Group);

/// <summary>One plant's life as rows of bars: leaves, spikes, blooms, new roots, states, pots, places.</summary>
public sealed class LifeChart
{
    private LifeChart(DateOnly from, DateOnly to, IReadOnlyList<LifeRow> rows) => (From, To, Rows) = (from, to, rows);

    public DateOnly From { get; }
    public DateOnly To { get; }
    public IReadOnlyList<LifeRow> Rows { get; }
    public IEnumerable<int> Years => Enumerable.Range(From.Year, To.Year - From.Year + 1);

    /// <summary>Rows with anything between two days.</summary>
    public IEnumerable<LifeRow> Between(DateOnly from, DateOnly to) => Rows.Where(row => row.Bars.Any(bar => bar.To >= from && bar.From <= to));

    public static LifeChart Of(PlantLife life, DateOnly today, PlantWords say, IStringLocalizer<PlantText> T)
    {
        var end = life.Card.LostOn ?? today;
        var rows = new List<LifeRow>();
        foreach (var growth in life.Growths)
        {
            foreach (var leaf in growth.Leaves)
                rows.Add(new LifeRow(say.Leaf(growth, leaf) + (leaf.ThereOnArrival ? " *" : ""), [Bar(leaf)], 0));
        }

        var spikes = life.Growths.SelectMany(growth => growth.Spikes).ToList();
        Add(T["RowSpikes"], 1, spikes.Select(spike => new LifeBar(spike.FirstSeen.Middle, spike.Ended?.Middle ?? spike.LastFlower?.Middle ?? end, "spike", spike.Ended is null ? BarEnd.Open : BarEnd.Over, T["BarSpike", say.When(spike.FirstSeen)]) { Beginning = Unsure(spike.FirstSeen), Ending = spike.Ended is { } over ? Unsure(over) : null }));
        Add(T["RowBlooms"], 1, spikes.Where(spike => spike.FirstFlower is not null).Select(spike => new LifeBar(spike.FirstFlower!.Value.Middle, spike.LastFlower?.Middle ?? end, "bloom", spike.LastFlower is null ? BarEnd.Open : BarEnd.Over, Bloom(spike)) { Beginning = Unsure(spike.FirstFlower.Value), Ending = spike.LastFlower is { } last ? Unsure(last) : null }));
        Add(T["RowRoots"], 1, life.NewRoots.Select(roots => new LifeBar(roots.When.Earliest, roots.When.IsOneDay ? roots.When.Earliest.AddDays(13) : roots.When.Latest, "water", BarEnd.Over, T["BarRoots", say.When(roots.When)]) { Beginning = Unsure(roots.When) }));
        foreach (var state in Enum.GetValues<PlantState>())
            Add(say.State(state), 2, Times(state));
        Add(T["RowPots"], 3, life.Pots.Select(pot => new LifeBar(pot.From, pot.To ?? end, "soft", pot.To is null ? BarEnd.Open : BarEnd.Over, T["BarPot", pot.Pot.Medium, say.Culture(pot.Pot.Culture), Show.ShortDay(pot.From)])));
        Add(T["RowPlaces"], 3, life.Places.Select(place => new LifeBar(place.From, place.To ?? end, "soft", place.To is null ? BarEnd.Open : BarEnd.Over, T["BarPlace", place.Name, Show.ShortDay(place.From)])));
        var first = rows.SelectMany(row => row.Bars).Select(bar => bar.From).Append(life.Arrived.EarliestDay).Min();
        return new LifeChart(first, end < first ? first : end, rows);

        void Add(string label, int group, IEnumerable<LifeBar> bars)
        {
            var all = bars.OrderBy(bar => bar.From).ToList();
            if (all.Count > 0)
                rows.Add(new LifeRow(label, all, group));
        }

        LifeBar Bar(Leaf leaf)
        {
            var lost = leaf.Lost;
            var yellow = leaf.Marks.Count == 0 ? (DateOnly?)null : leaf.Marks.Min(mark => mark.When.Middle);
            var words = leaf.ThereOnArrival ? T["BarThere", say.When(leaf.FirstSeen)] : T["BarSeen", say.When(leaf.FirstSeen)];
            return new LifeBar(leaf.FirstSeen.Middle, lost?.When.Middle ?? end, "root", lost is null ? BarEnd.Open : lost.Cause == LeafLoss.Shed ? BarEnd.Over : BarEnd.Lost, words + (lost is null ? "" : T["BarLost", say.When(lost.When), say.Loss(lost.Cause)]))
            {
                AgeUnknown = leaf.ThereOnArrival,
                Beginning = leaf.ThereOnArrival ? null : Unsure(leaf.FirstSeen),
                Ending = lost is null ? null : Unsure(lost.When),
                MarkedFrom = yellow,
            };
        }

        string Bloom(Spike spike) => T["BarBloom", say.When(spike.FirstFlower!.Value)] + (spike.Flowers is { } count ? T["BarFlowers", count] : "") + (spike.Scent is { } scent ? T["BarScent", scent] : "");

        IEnumerable<LifeBar> Times(PlantState state)
        {
            DateOnly? since = null;
            foreach (var seen in life.StatesOverTime)
            {
                var on = seen.States.Contains(state);
                if (on && since is null)
                    since = seen.From;
                else if (!on && since is { } began)
                {
                    yield return new LifeBar(began, seen.From.AddDays(-1) < began ? began : seen.From.AddDays(-1), PlantWords.Tone(state), BarEnd.Over, T["BarState", Show.ShortDay(began)]);
                    since = null;
                }
            }

            if (since is { } still)
                yield return new LifeBar(still, end, PlantWords.Tone(state), BarEnd.Open, T["BarState", Show.ShortDay(still)]);
        }
    }

    private static DaySpan? Unsure(DaySpan span) => span.IsOneDay ? null : span;
}
