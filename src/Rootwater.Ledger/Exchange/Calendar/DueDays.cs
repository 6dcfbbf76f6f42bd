using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Exchange.Calendar;

/// <summary>Which plants fall due on which day, by their usual intervals: what a calendar can know ahead. The round itself decides on the day, from the pot and the plant.</summary>
internal static class DueDays
{
    public static IEnumerable<(DateOnly On, IReadOnlyList<PlantCard> Plants)> Of(IReadOnlyList<PlantCard> cards, DateOnly today, int days) => cards
        .SelectMany(card => DaysOf(card, today, days).Select(on => (On: on, Card: card)))
        .GroupBy(pair => pair.On).OrderBy(group => group.Key)
        .Select(group => (group.Key, (IReadOnlyList<PlantCard>)[.. group.Select(pair => pair.Card)]));

    private static IEnumerable<DateOnly> DaysOf(PlantCard card, DateOnly today, int days)
    {
        if (card.Pot is not { FeedEveryDays: > 0 } pot || card.States.Contains(PlantState.DryRest))
        {
            yield break;
        }

        var due = (card.LastFed ?? pot.LastFed) is { } fed ? fed.AddDays(pot.FeedEveryDays) : today;
        for (due = due < today ? today : due; due <= today.AddDays(days); due = due.AddDays(pot.FeedEveryDays))
        {
            yield return due;
        }
    }
}
