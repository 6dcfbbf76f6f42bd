using System.CommandLine;
using System.Globalization;
using Rootwater.Ledger.Desks;

namespace Rootwater.Cli;

/// <summary><c>rootwater bench</c>: the plants at a glance.</summary>
internal static class BenchCommand
{
    public static Command Create()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var words = new Argument<string[]>("WORDS") { Description = "Words that must all occur in number, names, kind, place or notes.", Arity = ArgumentArity.ZeroOrMore };
        var place = new Option<string?>("--place") { Description = "Only those at this place." };
        var kind = new Option<string?>("--kind") { Description = "Only this kind." };
        var due = new Option<bool>("--due") { Description = "Only those that are due." };
        var trouble = new Option<bool>("--trouble") { Description = "Only those with open trouble." };
        var lost = new Option<bool>("--lost") { Description = "Also those no longer here." };
        return new Command("bench", "The plants on the bench in walking order, narrowed by words, place, kind, due, trouble.") { words, place, kind, due, trouble, lost, bench, json }
            .With((result, cancel) => Words.OnBenchAsync("bench", result.GetValue(bench), async desks =>
            {
                var places = await desks.Plants.PlacesAsync(cancel);
                var at = result.GetValue(place) is { } name
                    ? places.FirstOrDefault(one => string.Equals(one.Name, name, StringComparison.OrdinalIgnoreCase)) ?? throw new Ledger.EntryException("--place", name, $"one of {string.Join(", ", places.Select(one => one.Name))}")
                    : null;
                var cards = await desks.Plants.ListAsync(new BenchQuery
                {
                    Words = result.GetValue(words) is { Length: > 0 } all ? string.Join(' ', all) : null,
                    PlaceId = at?.Id,
                    Kind = result.GetValue(kind),
                    Due = result.GetValue(due) ? true : null,
                    Trouble = result.GetValue(trouble) ? true : null,
                    WithLost = result.GetValue(lost),
                }, cancel);
                if (result.GetValue(json))
                {
                    return Words.WriteJson(cards);
                }

                Words.WriteTable(["no.", "name", "place", "leaves", "due", "trouble"], cards.Select(card => (IReadOnlyList<string?>)
                [
                    card.Number.ToString(CultureInfo.InvariantCulture), card.Name, card.Place?.Name, card.LivingLeaves.ToString(CultureInfo.InvariantCulture),
                    card.LostOn is { } gone ? $"left {gone:yyyy-MM-dd}" : card.DaysOverdue switch { null => "", 0 => "today", var days => $"{days} days over" }, string.Join("; ", card.Trouble),
                ]));
                return 0;
            }, cancel));
    }
}
