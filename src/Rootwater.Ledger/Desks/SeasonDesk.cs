using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;
using Rootwater.Growing.Evidence.Seasons;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The year over the dates of all lives.</summary>
internal sealed class SeasonDesk(BenchDatabase database, ISettingsDesk settings, KeptLives<PlantDates> dates) : ISeasonDesk, IDisposable
{
    private readonly SemaphoreSlim _working = new(1, 1);
    private readonly AnswersInHand<SeasonSheet> _sheets = new();
    private readonly AnswersInHand<IReadOnlyList<ClimateWatch>> _watches = new();

    public async Task<SeasonSheet> GetAsync(CancellationToken cancel = default)
    {
        var bench = await settings.GetAsync(cancel);
        var today = bench.Today;
        await _working.WaitAsync(cancel);
        try
        {
            return await database.ReadAsync(db => _sheets.OfAsync(db, (today, bench.SouthOfEquator), async () =>
            {
                var plants = (await dates.OfAsync(db, cancel)).Values.OrderBy(plant => plant.Number).ToList();
                return new SeasonReckoning(plants, await WeatherAsync(db, plants, today, cancel), today, bench.SouthOfEquator).Sheet();
            }, cancel), cancel);
        }
        finally
        {
            _working.Release();
        }
    }

    public async Task<IReadOnlyList<ClimateWatch>> ClimateAsync(CancellationToken cancel = default)
    {
        var today = (await settings.GetAsync(cancel)).Today;
        return await database.ReadAsync(db => _watches.OfAsync(db, today, async () =>
        {
            var year = (await ClimateInHand.OfAsync(db, null, today.AddDays(-365), today, cancel)).ToLookup(day => day.PlaceId);
            var plants = (await dates.OfAsync(db, cancel)).Values.Where(plant => plant.LostOn is null && plant.PlaceId is not null).ToLookup(plant => plant.PlaceId!.Value);
            var since = FactWhen.ToStored(today.AddDays(-365).ToDateTime(TimeOnly.MinValue));
            var pots = (await db.TakenReadings.Where(reading => reading.PlantId != null && reading.TemperatureCelsius != null && string.Compare(reading.At, since) >= 0)
                .Select(reading => new { PlantId = reading.PlantId!.Value, reading.At, Celsius = reading.TemperatureCelsius!.Value }).ToListAsync(cancel)).ToLookup(reading => reading.PlantId, reading => (Day: DateOnly.ParseExact(reading.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), reading.Celsius));
            var watches = new List<ClimateWatch>();
            foreach (var place in await db.Places.OrderBy(place => place.WalkOrder).ToListAsync(cancel))
            {
                var days = year[place.Id].ToList();
                var roots = plants[place.Id].SelectMany(plant => pots[plant.PlantId]).ToList();
                if (days.Count == 0 && roots.Count == 0)
                {
                    continue;
                }

                var low = days.Where(day => day.Low is not null).MinBy(day => day.Low);
                var root = roots.Count == 0 ? ((DateOnly Day, double Celsius)?)null : roots.MinBy(reading => reading.Celsius);
                var month = days.Where(day => day.Day > today.AddDays(-30)).ToList();
                watches.Add(new ClimateWatch
                {
                    PlaceId = place.Id,
                    Place = place.Name,
                    DaysRead = days.Count(day => day.Low is not null),
                    LowestCelsius = low?.Low,
                    LowestOn = low?.Day,
                    RootLowestCelsius = root?.Celsius,
                    RootLowestOn = root?.Day,
                    ColdDaysOf30 = month.Where(day => day.Low < ClimateWatch.ColdRootCelsius).Select(day => day.Day)
                        .Union(roots.Where(reading => reading.Day > today.AddDays(-30) && reading.Celsius < ClimateWatch.ColdRootCelsius).Select(reading => reading.Day)).Count(),
                    DaysLitOf30 = month.Count(day => day.OneHourPpfd is not null),
                    Genera = await GeneraAsync(db, place.Id, plants[place.Id], days, today, cancel),
                });
            }

            return watches;
        }, cancel), cancel);
    }

    private static async Task<IReadOnlyList<GenusWatch>> GeneraAsync(LedgerContext db, Guid placeId, IEnumerable<PlantDates> plants, List<ClimateDay> days, DateOnly today, CancellationToken cancel)
    {
        var kinds = plants.Select(plant => (plant.Kind, Known: SeasonReckoning.KindOf(plant))).Where(each => each.Known is not null).GroupBy(each => each.Known!.Genus).OrderBy(group => group.Key, StringComparer.Ordinal).ToList();
        var readings = new List<TemperatureReading>();
        var from = today.AddDays(-120);
        if (kinds.Exists(group => group.Any(each => SeasonReckoning.RuleOf(each.Known!) is not null)))
        {
            foreach (var air in await db.AirDays.AsNoTracking().Where(air => air.PlaceId == placeId && air.Day >= from && air.Day <= today).OrderBy(air => air.Day).ToListAsync(cancel))
            {
                readings.AddRange(air.Samples.Where(sample => sample.TemperatureCelsius is not null).Select(sample => new TemperatureReading(new DateTimeOffset(air.Day.ToDateTime(TimeOnly.MinValue).AddMinutes(sample.Minute), TimeSpan.Zero), sample.TemperatureCelsius!.Value)));
            }
        }

        return
        [
            .. kinds.Select(group =>
            {
                var rule = group.Select(each => SeasonReckoning.RuleOf(each.Known!)).FirstOrDefault(found => found is not null);
                var limit = ShadeLimit.For(group.Key);
                ThresholdHours? below = null, under = null;
                if (rule is not null && readings.Count > 1)
                {
                    var (start, end) = (new DateTimeOffset(from.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero), new DateTimeOffset(today.AddDays(1).ToDateTime(TimeOnly.MinValue), TimeSpan.Zero));
                    below = TemperatureHours.Below(readings, rule.MeanHigh, start, end);
                    under = TemperatureHours.Below(readings, rule.MeanLow, start, end);
                }

                var lit = days.Where(day => day.OneHourPpfd is not null).ToList();
                int? Above(int last) => limit is null || !lit.Exists(day => day.Day > today.AddDays(-last)) ? null : lit.Count(day => day.Day > today.AddDays(-last) && day.OneHourPpfd > limit.Ppfd);
                return new GenusWatch(
                    group.Key, below?.Hours - under?.Hours, below?.Known,
                    rule is null ? null : days.Count(day => day.Day >= from && SeasonReckoning.DayOf(day) is { } whole && rule.Induces(whole)),
                    rule is null ? null : FormattableString.Invariant($"{rule.MeanLow:0} to {rule.MeanHigh:0} °C"),
                    limit?.Ppfd, Above(30), Above(365), [.. new[] { rule?.Source, limit?.Source }.OfType<string>()]);
            }),
        ];
    }

    /// <summary>Whole days of temperature at the places where kinds stand whose spikes a paper ties to temperature.</summary>
    private static async Task<Dictionary<Guid, IReadOnlyList<TemperatureDay>>> WeatherAsync(LedgerContext db, List<PlantDates> plants, DateOnly today, CancellationToken cancel)
    {
        var weather = new Dictionary<Guid, IReadOnlyList<TemperatureDay>>();
        foreach (var place in plants.Where(plant => plant.LostOn is null && SeasonReckoning.KindOf(plant) is { } kind && SeasonReckoning.RuleOf(kind) is not null).Select(plant => plant.PlaceId).OfType<Guid>().Distinct())
        {
            weather[place] = [.. (await ClimateInHand.OfAsync(db, place, DateOnly.MinValue, today, cancel)).Select(SeasonReckoning.DayOf).OfType<TemperatureDay>()];
        }

        return weather;
    }

    public void Dispose() => _working.Dispose();
}
