using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What recorded forecasts were off by, as far as had been read on a day.</summary>
internal sealed record ForecastErrorsInHand(DateOnly On, ForecastErrors Errors);

/// <summary>Forecasts as they were written with a feed, and the readings that met them before anything else was poured.</summary>
internal static class RecordedForecasts
{
    // Of older forecasts the pot has changed since, and so may have the model.
    private const int Days = 400;

    // Parameters of one statement.
    private const int AtOnce = 500;
    private static readonly string s_believed = FactKinds.NameOf<RootForecastBelieved>();

    /// <summary>The bench's errors as of today: read once a day, for what one day adds moves no band that matters.</summary>
    public static async Task<ForecastErrors> InHandAsync(BenchDatabase database, TimeProvider clock, CancellationToken cancel)
    {
        var now = await database.ReadAsync(async db => BenchClock.MinuteAt(clock.GetUtcNow(), (await BenchReader.BenchAsync(db, cancel)).Zone).Latest, cancel);
        if (database.ForecastErrors is not { } known || known.On != DateOnly.FromDateTime(now))
        {
            database.ForecastErrors = known = new ForecastErrorsInHand(DateOnly.FromDateTime(now), ErrorsOf(await ReadAsync(database, now, cancel)));
        }

        return known.Errors;
    }

    public static ForecastErrors ErrorsOf(IEnumerable<MetForecast> met)
    {
        var errors = new ForecastErrors();
        foreach (var one in met)
        {
            errors.Add(one);
        }

        return errors;
    }

    /// <summary>Those of the last 400 days, in order of their feeds. Only forecasts that a reading may have met are read: a year of all those of 500 plants is tens of megabytes.</summary>
    public static Task<IReadOnlyList<MetForecast>> ReadAsync(BenchDatabase database, DateTime now, CancellationToken cancel) => database.ReadAsync<IReadOnlyList<MetForecast>>(async db =>
    {
        var since = now.Date.AddDays(-Days);
        var (stored, day) = (FactWhen.ToStored(since), DateOnly.FromDateTime(since));
        var readings = (await db.TakenReadings
                .Where(reading => reading.PotId != null && (reading.Of == ReadingOf.Reservoir || reading.Of == ReadingOf.Runoff) && string.Compare(reading.At, stored) >= 0).ToListAsync(cancel))
            .ToLookup(reading => reading.PotId!.Value, reading => new ReadingMeeting(reading.FactId, reading.Of, reading.AtLocal, reading.EcMicrosiemensPerCm, reading.PH, reading.LevelShare));
        if (readings.Count == 0)
        {
            return [];
        }

        var pots = await db.Pots.Select(pot => new { pot.Id, pot.PlantId, pot.Medium, pot.Culture }).ToDictionaryAsync(pot => pot.Id, cancel);
        var readOf = pots.Values.SelectMany(pot => readings[pot.Id].Select(reading => (pot.PlantId, reading.At))).ToLookup(each => each.PlantId, each => each.At);
        var feeds = (await db.Feedings.Where(feeding => feeding.Day >= day).Select(feeding => new { feeding.FactId, feeding.PlantId, feeding.Day }).ToListAsync(cancel)).ToLookup(feeding => feeding.PlantId);
        var standing = feeds.SelectMany(plant => plant.Select(feeding => feeding.FactId)).ToHashSet();
        DateOnly? Next(Guid plant, DateTime fed) => feeds[plant].Where(feeding => feeding.Day > DateOnly.FromDateTime(fed)).Select(feeding => (DateOnly?)feeding.Day).Min();
        bool MayMeet(Guid plant, DateTime fed) => readOf.Contains(plant) && Next(plant, fed) is var next && readOf[plant].Any(at => at > fed && (next is null || DateOnly.FromDateTime(at) <= next));

        var all = await db.Facts.Where(fact => fact.Kind == s_believed && string.Compare(fact.Earliest, stored) >= 0).OrderBy(fact => fact.Earliest).Select(fact => new { fact.Id, fact.SubjectId, fact.Precision, fact.Earliest }).ToListAsync(cancel);
        var asked = all.Select(fact => (fact.Id, fact.SubjectId, Fed: FeedTimes.Of(FactWhen.FromStored(fact.Precision, fact.Earliest, fact.Earliest, "")))).Where(fact => MayMeet(fact.SubjectId, fact.Fed)).ToList();
        var met = new List<MetForecast>();
        foreach (var some in asked.Chunk(AtOnce))
        {
            var ids = some.Select(fact => fact.Id).ToList();
            var payloads = await db.Facts.Where(fact => ids.Contains(fact.Id)).Select(fact => new { fact.Id, fact.Kind, fact.Version, fact.Payload }).ToDictionaryAsync(fact => fact.Id, cancel);
            foreach (var (id, plant, fed) in some)
            {
                if (FactKinds.Read(payloads[id].Kind, payloads[id].Version, payloads[id].Payload) is RootForecastBelieved { Moments.Count: > 1 } forecast && standing.Contains(forecast.FeedFactId) && pots.TryGetValue(forecast.PotId, out var pot))
                {
                    var next = Next(plant, fed);
                    met.AddRange(readings[forecast.PotId].Where(reading => next is null || DateOnly.FromDateTime(reading.At) <= next).SelectMany(reading => MetForecast.Of(forecast, pot.Medium, pot.Culture, fed, reading)));
                }
            }
        }

        return met;
    }, cancel);
}
