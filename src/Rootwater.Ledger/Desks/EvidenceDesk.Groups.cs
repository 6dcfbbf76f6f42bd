using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Which plants are meant, and what is read of them.
public sealed partial class EvidenceDesk
{
    /// <param name="Who">In words.</param>
    /// <param name="Plants">Those meant, by number.</param>
    /// <param name="Today">The bench's day.</param>
    private sealed record Group(string Who, IReadOnlyList<EvidencePlant> Plants, DateOnly Today);

    private async Task<T> OnGroupAsync<T>(string key, PlantGroup plants, Func<Group, IReadOnlyList<EvidencePlant>, Task<T>> make, CancellationToken cancel) where T : class
    {
        var today = await time.TodayAsync(cancel);
        // The bench's own search answers by words, so that both find the same plants.
        var found = plants is { Words: null, PlaceId: null } ? null
            : (await bench.ListAsync(new BenchQuery { Words = plants.Words, PlaceId = plants.PlaceId, WithLost = true }, cancel)).Select(card => card.Id).ToHashSet();
        return await _memory.AnswerAsync(FactWords.Say($"{key}|{plants.Number}|{plants.Kind}|{plants.PlaceId}|{plants.Words}"), today, all =>
        {
            var members = all.Where(plant => (plants.Number is null || plant.Number == plants.Number)
                && (plants.Kind is null || plant.KindWords.Contains(plants.Kind.Trim(), StringComparison.OrdinalIgnoreCase))
                && (found is null || found.Contains(plant.Id))).ToList();
            if (members.Count == 0)
            {
                throw plants.Number is { } number ? new EntryException("number", FactWords.Say($"{number}"), "the number of a plant on this bench")
                    : plants.Kind is { } kind ? new EntryException("kind", kind, all.Count == 0 ? "a kind of which a plant is on this bench; there is none yet" : $"a kind on this bench: {string.Join(", ", all.Select(plant => plant.KindWords).Distinct().Order(StringComparer.OrdinalIgnoreCase))}")
                    : new EntryException("plants", plants.Words, "words that fit a plant on this bench");
            }

            return make(new Group(WhoOf(members, plants.Kind ?? plants.Words), members, today), all);
        }, cancel);
    }

    /// <summary>All plants as they stand in the ledger now, for the trials.</summary>
    internal async Task<IReadOnlyList<EvidencePlant>> PlantsAsync(CancellationToken cancel) =>
        await _memory.AnswerAsync("plants", await time.TodayAsync(cancel), Task.FromResult, cancel);

    private static string WhoOf(List<EvidencePlant> members, string? called) => members.Count == 1 ? members[0].Called
        : called is null ? FactWords.Say($"all {members.Count} plants") : FactWords.Say($"{members.Count} plants, {called}");

    private static void CheckSince(DateOnly since, IReadOnlyList<EvidencePlant> plants, DateOnly today)
    {
        var first = plants.Min(plant => plant.Arrived.Earliest);
        if (since <= first || since >= today)
        {
            throw new EntryException("since", FactWords.Say($"{since:yyyy-MM-dd}"), FactWords.Say($"a day on which they were watched before and after: after {first:yyyy-MM-dd} and before {today:yyyy-MM-dd}"));
        }
    }

    private Task<FeedHistory> FeedsAsync(IReadOnlyList<EvidencePlant> plants) => FeedsAsync(plants, DateOnly.MinValue, DateOnly.MaxValue);

    private Task<FeedHistory> FeedsAsync(IReadOnlyList<EvidencePlant> plants, DateOnly from, DateOnly to) =>
        database.ReadAsync(db => FeedHistory.ReadAsync(db, [.. plants.Select(plant => plant.Id)], from, to, CancellationToken.None));

    private Task<AirHistory> AirAsync() => database.ReadAsync(db => AirHistory.ReadAsync(db, CancellationToken.None));
}
