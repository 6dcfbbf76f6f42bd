using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>The year over the lives of all plants: nothing of it is stored twice.</summary>
public sealed class YearDesk(BenchDatabase database, IPlantDesk plants, BenchTime time) : IYearDesk, IDisposable
{
    private readonly KeptLives<IReadOnlyList<YearSpan>> _spans = new(story => [.. Spans(story)]);
    private readonly AnswersInHand<YearSheet> _sheets = new();

    public async Task<YearSheet> GetAsync(int? year = null, CancellationToken cancel = default)
    {
        var today = await time.TodayAsync(cancel);
        return await database.ReadAsync(db => _sheets.OfAsync(db, (year, today), () => SheetAsync(year, today, cancel), cancel), cancel);
    }

    private async Task<YearSheet> SheetAsync(int? year, DateOnly today, CancellationToken cancel)
    {
        var cards = await plants.ListAsync(new BenchQuery { WithLost = true }, cancel);
        var pots = (await database.ReadAsync(db => db.Pots.OrderBy(pot => pot.FilledOn).Select(pot => new { pot.PlantId, pot.FilledOn, pot.Medium }).ToListAsync(cancel), cancel)).ToLookup(pot => pot.PlantId);
        var told = await database.ReadAsync(db => _spans.OfAsync(db, cancel), cancel);
        var lines = cards.Where(card => told.ContainsKey(card.Id)).Select(card => new YearLine(card,
        [
            .. told[card.Id]
                // The first pot is how it came, not a repotting.
                .Concat(pots[card.Id].Skip(1).Select(pot => new YearSpan(YearMark.Repotted, pot.FilledOn, pot.FilledOn, pot.Medium)))
                .Where(span => year is null || (span.From.Year <= year && (span.To ?? today).Year >= year)).OrderBy(span => span.From),
        ])).ToList();
        var years = lines.SelectMany(line => line.Spans).SelectMany(span => Enumerable.Range(span.From.Year, (span.To ?? today).Year - span.From.Year + 1)).Distinct().Order().ToList();
        return new YearSheet(years, lines);
    }

    public void Dispose() => _spans.Dispose();

    private static IEnumerable<YearSpan> Spans(PlantStory story)
    {
        foreach (var spike in story.Growths.SelectMany(growth => growth.Spikes))
        {
            yield return new YearSpan(YearMark.Spike, spike.FirstSeen.Middle, spike.Ended?.Middle ?? spike.LastFlower?.Middle, null);
            if (spike.FirstFlower is { } first)
                yield return new YearSpan(YearMark.Bloom, first.Middle, spike.LastFlower?.Middle, Words(spike));
        }

        foreach (var roots in story.NewRoots)
            yield return new YearSpan(YearMark.NewRoots, roots.When.Middle, roots.When.Middle, roots.Count?.ToString(CultureInfo.InvariantCulture));
        foreach (var rest in RestSpan.Of(story))
            yield return new YearSpan(YearMark.Rest, rest.From, rest.To ?? story.Lost?.When.EarliestDay, Name(rest.State));
    }

    private static string Name(PlantState rest) => rest == PlantState.DryRest ? "dry rest" : "cool rest";

    private static string? Words(Spike spike)
    {
        var words = new[]
        {
            spike.Flowers is { } flowers ? flowers == 1 ? "1 flower" : $"{flowers.ToString(CultureInfo.InvariantCulture)} flowers" : null,
            spike.FlowerWidthMillimetres is { } width ? $"{(width / 10).ToString("0.#", CultureInfo.InvariantCulture)} cm wide" : null,
            spike.Scent is { } scent ? $"scent: {scent}" : null,
        }.OfType<string>().ToList();
        return words.Count == 0 ? null : string.Join(", ", words);
    }
}
