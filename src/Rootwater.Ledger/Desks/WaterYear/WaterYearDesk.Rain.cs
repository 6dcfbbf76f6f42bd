using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// The rain budget: roof area times the rain record against the coming rounds.
public sealed partial class WaterYearDesk
{
    private const int Draws = 60, PlainDays = 1100;

    public async Task<RainSheet> RainAsync(int days = RainSheet.UsualDays, CancellationToken cancel = default)
    {
        if (days is < 7 or > 365)
        {
            throw new EntryException("days", FactWords.Say($"{days}"), "7 to 365 days");
        }

        return days == RainSheet.UsualDays ? (await _sheet.WaitAsync(cancel)).Rain : await RainAsync(database, waters, await time.TodayAsync(cancel), days, cancel);
    }

    private static async Task<RainSheet> RainAsync(BenchDatabase database, IWaterDesk waters, DateOnly today, int days, CancellationToken cancel)
    {
        var all = await waters.ListAsync(cancel);
        var told = await database.ReadAsync(db => StandingFacts.AboutAsync(db, [Guid.Empty, .. all.Select(water => water.Id)], cancel, FactKinds.NameOf<WaterRoof>(), FactKinds.NameOf<WaterLevelSeen>(), FactKinds.NameOf<RainRecorded>()), cancel);
        var roof = told.Select(each => each.Payload).OfType<WaterRoof>().LastOrDefault();
        var water = all.FirstOrDefault(each => each.Id == roof?.WaterId) ?? all.FirstOrDefault(each => each.Reports.Count > 0 && each.Reports[0].Entry.Origin == WaterOrigin.Rain);
        var rain = new Dictionary<DateOnly, double>();
        foreach (var day in told.Select(each => each.Payload).OfType<RainRecorded>().SelectMany(record => record.Days))
        {
            rain[day.Day] = day.Millimetres;
        }

        var level = told.LastOrDefault(each => each.Payload is WaterLevelSeen seen && seen.WaterId == water?.Id);
        var litres = (level.Payload as WaterLevelSeen)?.Litres ?? water?.AvailableLitres;
        var wanted = water is null ? new Dictionary<DateOnly, double>() : await WantedAsync(database, water.Id, today, days, cancel);
        var missing = Missing(water, roof, litres, rain.Count).ToList();
        RainOutlook? outlook = null;
        if (missing.Count == 0)
        {
            try
            {
                outlook = await Task.Run(
                    () => RainBudget.Of(new RainBudgetRequest
                    {
                        RoofSquareMetres = roof!.RoofSquareMetres,
                        RunOffShare = roof.RunOffShare,
                        BarrelLitres = roof.BarrelLitres,
                        LitresToday = Math.Min(roof.BarrelLitres, litres!.Value),
                        RainMillimetres = rain,
                        Wanted = wanted,
                        Today = today,
                    }),
                    cancel);
            }
            catch (ArgumentException refused)
            {
                missing.Add(refused.Message);
            }
        }

        var perWeek = wanted.Count == 0 ? 0 : wanted.Values.Sum() / days * 7;
        double? given = roof is null || rain.Count == 0 ? null : rain.Values.Average() * 7 * roof.RoofSquareMetres * roof.RunOffShare;
        return new RainSheet
        {
            AsOf = today,
            WaterId = water?.Id,
            WaterName = water?.Name,
            Roof = roof is null ? null : new RoofEntry(roof.WaterId, roof.RoofSquareMetres, roof.BarrelLitres, roof.RunOffShare),
            LevelOn = level.Fact?.When.EarliestDay,
            LitresThere = litres,
            RecordDays = rain.Count,
            RecordFrom = rain.Count > 0 ? rain.Keys.Min() : null,
            RecordTo = rain.Count > 0 ? rain.Keys.Max() : null,
            WantedLitresPerWeek = perWeek,
            GivenLitresPerWeek = given,
            Levels = [.. outlook?.Levels.Select(each => new RainLevel(each.Day, each.Litres)) ?? []],
            ChanceOfEmpty = outlook?.ChanceOfEmpty,
            EmptyFrom = outlook?.EmptyFrom,
            ShortLitres = outlook?.ShortLitres,
            Years = outlook?.Years ?? 0,
            Missing = missing,
            Words = [.. Words(outlook, perWeek, given)],
        };
    }

    private static IEnumerable<string> Missing(WaterView? water, WaterRoof? roof, double? litres, int days)
    {
        if (water is null)
        {
            yield return "A water that rain fills: enter one, and its roof.";
            yield break;
        }

        if (roof is null)
        {
            yield return "How large the roof is that drains into the barrel, and what the barrel holds.";
        }

        if (litres is null)
        {
            yield return "How much is in the barrel today.";
        }

        if (days == 0)
        {
            yield return "A rain record, at least a year of days: your own gauge, or that of the nearest weather station.";
        }
    }

    private static IEnumerable<string> Words(RainOutlook? outlook, double perWeek, double? given)
    {
        if (outlook is null)
        {
            yield break;
        }

        yield return outlook.Words;
        yield return FactWords.Say($"The coming rounds take {perWeek:0} L a week of it; the roof gives {given:0} L a week in the mean of the record, more in wet weeks and none in dry ones.");
        yield return "Each year on record is run through the same days from what is in the barrel today; what the rounds take is the mean of drawn rounds, as for the cupboard.";
    }

    /// <summary>Litres by day: cans of drawn rounds, and the plain water and leaches at their past rate of the month.</summary>
    private static async Task<IReadOnlyDictionary<DateOnly, double>> WantedAsync(BenchDatabase database, Guid water, DateOnly today, int days, CancellationToken cancel)
    {
        var from = today.AddDays(-PlainDays);
        var (ahead, plain, first) = await database.ReadAsync(
            async db => (
                await RoundsAhead.ReadAsync(db, today, cancel),
                await db.Feedings.Where(feeding => feeding.WaterId == water && feeding.What != Pouring.Feed && feeding.Day >= from && feeding.Day <= today).Select(feeding => new { feeding.Day, feeding.Millilitres }).ToListAsync(cancel),
                await db.Feedings.Where(feeding => feeding.Day >= from).MinAsync(feeding => (DateOnly?)feeding.Day, cancel)),
            cancel);
        return await Task.Run<IReadOnlyDictionary<DateOnly, double>>(
            () =>
            {
                var past = Enumerable.Range(0, first is { } begin ? today.DayNumber - begin.DayNumber : 0).Select(i => first!.Value.AddDays(i).Month).ToLookup(month => month);
                var perDay = plain.GroupBy(each => each.Day.Month).ToDictionary(month => month.Key, month => month.Sum(each => each.Millilitres) / 1000 / Math.Max(1, past[month.Key].Count()));
                var wanted = Enumerable.Range(0, days).Select(today.AddDays).ToDictionary(day => day, day => perDay.GetValueOrDefault(day.Month));
                var random = new Random(1);
                for (var draw = 0; draw < Draws; draw++)
                {
                    foreach (var can in ahead.Rounds.Draw(today.AddDays(days - 1), random))
                    {
                        wanted[can.On] += can.Litres * can.Pattern.WaterShares.GetValueOrDefault(water) / Draws;
                    }
                }

                return wanted;
            },
            cancel);
    }
}
