using System.Runtime.InteropServices;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What plants were given, from what was poured and what the cans hold.</summary>
/// <remarks>
/// A feed counts with what its can's card says it brings; plain water, where it was said which, with the report that was newest on the day;
/// a leach with nothing, because it runs out again. EC is the can's as it counts: measured in the finished can, else expected.
/// </remarks>
public sealed class NutrientLedger(BenchDatabase database) : INutrientLedger
{
    public Task<IReadOnlyList<NutrientWeek>> OfPlantAsync(Guid plantId, DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default) =>
        database.ReadAsync(async db => (await ReadAsync(db, plantId, from, to, cancel)).GetValueOrDefault(plantId, []), cancel);

    public Task<IReadOnlyDictionary<Guid, IReadOnlyList<NutrientWeek>>> OfBenchAsync(DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default) =>
        database.ReadAsync<IReadOnlyDictionary<Guid, IReadOnlyList<NutrientWeek>>>(async db => await ReadAsync(db, null, from, to, cancel), cancel);

    private static async Task<Dictionary<Guid, IReadOnlyList<NutrientWeek>>> ReadAsync(LedgerContext db, Guid? plantId, DateOnly? from, DateOnly? to, CancellationToken cancel)
    {
        var (first, last) = (from ?? DateOnly.MinValue, to ?? DateOnly.MaxValue);
        var poured = db.Feedings.Where(feeding => feeding.Day >= first && feeding.Day <= last);
        var contents = db.CanContents.AsQueryable();
        var readings = db.TakenReadings.Where(reading => reading.Of == ReadingOf.Reservoir && reading.PlantId != null && reading.PH != null);
        if (plantId is { } id)
        {
            poured = poured.Where(feeding => feeding.PlantId == id);
            contents = contents.Where(can => db.Feedings.Where(feeding => feeding.PlantId == id).Select(feeding => feeding.CanId).Contains(can.CanId));
            readings = readings.Where(reading => reading.PlantId == id);
        }

        var cans = (await contents.ToListAsync(cancel)).ToDictionary(can => can.CanId);
        var waters = new WaterNutrients(await db.WaterReports.ToListAsync(cancel));
        var measured = (await readings.Select(reading => new { PlantId = reading.PlantId!.Value, reading.At, PH = reading.PH!.Value }).ToListAsync(cancel))
            .ToLookup(reading => reading.PlantId, reading => (Day: DateOnly.ParseExact(reading.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), reading.PH));
        var told = new Dictionary<Guid, IReadOnlyList<NutrientWeek>>();
        // Plant after plant: a large bench has a quarter of a million weeks, and not all of them are held while they are summed.
        var (plant, weeks) = (Guid.Empty, new Dictionary<DateOnly, Week>());
        await foreach (var pour in poured.OrderBy(feeding => feeding.PlantId).Select(feeding => new { feeding.PlantId, feeding.Day, feeding.What, feeding.CanId, feeding.WaterId, feeding.Millilitres })
            .AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (pour.PlantId != plant)
            {
                Close();
                plant = pour.PlantId;
            }

            var week = Of(pour.Day);
            if (pour.What == Pouring.Feed && pour.CanId is { } canId && cans.TryGetValue(canId, out var can))
            {
                week.Feed(can.MgPerLitre, can.EcMicrosiemensPerCm, pour.Millilitres);
            }
            else
            {
                week.Water(pour.What == Pouring.PlainWater && pour.WaterId is { } waterId ? waters.On(waterId, pour.Day) : null, pour.Millilitres);
            }
        }

        if (plantId is { } one && weeks.Count > 0)
        {
            // One plant's forecasts are a few hundred lines of JSON; the whole bench's in ten years are not read for a table.
            var kind = FactKinds.NameOf<RootForecastBelieved>();
            var feeds = await db.Feedings.Where(feeding => feeding.PlantId == one && feeding.Day >= first && feeding.Day <= last).Select(feeding => new { feeding.FactId, feeding.Day }).ToListAsync(cancel);
            var days = feeds.ToDictionary(feeding => feeding.FactId, feeding => feeding.Day);
            // A forecast is written with its feed or after it, never before.
            var since = from is { } begin ? FactWhen.ToStored(begin.AddDays(-1).ToDateTime(TimeOnly.MinValue)) : "";
            var forecasts = db.Facts.Where(fact => fact.SubjectId == one && fact.Kind == kind && string.Compare(fact.Earliest, since) >= 0).Select(fact => new { fact.Version, fact.Payload });
            await foreach (var fact in forecasts.AsAsyncEnumerable().WithCancellation(cancel))
            {
                if (FactKinds.Read(kind, fact.Version, fact.Payload) is RootForecastBelieved { Moments.Count: > 0 } believed && days.TryGetValue(believed.FeedFactId, out var day))
                {
                    Of(day).Believed(believed.MeanPH(7), believed.MeanEcMicrosiemensPerCm(7));
                }
            }
        }

        Close();
        return told;

        Week Of(DateOnly day)
        {
            ref var week = ref CollectionsMarshal.GetValueRefOrAddDefault(weeks, Monday(day), out _);
            return week ??= new Week();
        }

        void Close()
        {
            if (weeks.Count == 0)
            {
                return;
            }

            foreach (var (day, ph) in measured[plant])
            {
                if (day >= first && day <= last && weeks.TryGetValue(Monday(day), out var week))
                {
                    week.Measured(ph);
                }
            }

            told[plant] = [.. weeks.OrderBy(pair => pair.Key).Select(pair => pair.Value.ToView(pair.Key))];
            weeks.Clear();
        }
    }

    private static DateOnly Monday(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));

    private sealed class Week
    {
        private readonly double[] _milligrams = new double[NutrientAmounts.Count];
        private double _feed, _water, _ecTimesFeed, _measured, _believed, _believedEc;
        private int _readings, _forecasts;

        public void Feed(NutrientAmounts mgPerLitre, double ec, double millilitres)
        {
            Add(mgPerLitre, millilitres);
            _feed += millilitres;
            _ecTimesFeed += ec * millilitres;
        }

        public void Water(NutrientAmounts? mgPerLitre, double millilitres)
        {
            _water += millilitres;
            if (mgPerLitre is not null)
            {
                Add(mgPerLitre, millilitres);
            }
        }

        public void Measured(double ph)
        {
            _measured += ph;
            _readings++;
        }

        public void Believed(double ph, double ec)
        {
            _believed += ph;
            _believedEc += ec;
            _forecasts++;
        }

        public NutrientWeek ToView(DateOnly monday) => new(
            monday, NutrientAmounts.FromSpan(_milligrams), _feed, _water, _feed > 0 ? _ecTimesFeed / _feed : null, _forecasts > 0 ? _believed / _forecasts : null, _readings > 0 ? _measured / _readings : null)
        {
            ForecastRootEcMicrosiemensPerCm = _forecasts > 0 ? _believedEc / _forecasts : null,
        };

        private void Add(NutrientAmounts mgPerLitre, double millilitres)
        {
            var amounts = mgPerLitre.AsSpan();
            for (var i = 0; i < amounts.Length; i++)
            {
                _milligrams[i] += amounts[i] * millilitres / 1000;
            }
        }
    }

    /// <summary>What a litre of a water brings. A kilogram of water is taken for a litre: 0.2 % at 20 °C.</summary>
    private sealed class WaterNutrients(IEnumerable<Rows.WaterReportRow> reports)
    {
        private readonly ILookup<Guid, (DateOnly SampledOn, NutrientAmounts MgPerLitre)> _reports = reports
            .OrderBy(report => report.SampledOn).ThenBy(report => report.Position)
            .ToLookup(report => report.WaterId, report => (report.SampledOn, Of(report.Source)));

        public NutrientAmounts? On(Guid waterId, DateOnly day)
        {
            NutrientAmounts? found = null;
            foreach (var (sampledOn, amounts) in _reports[waterId])
            {
                // Before the first report the first has to do.
                if (found is null || sampledOn <= day)
                {
                    found = amounts;
                }
            }

            return found;
        }

        private static NutrientAmounts Of(WaterSource source) => Nutrients.MilligramsIn(source.MolPerKgWater);
    }
}
