using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <content>How often the bands were right.</content>
public sealed partial class PotLearningDesk
{
    // A visit is what was read of a pot within a few hours; a pot read on fewer is not held back from.
    private const double VisitHours = 12;
    private const int LeastVisits = 4;

    // Of older forecasts the pot has changed since, and so may have the model.
    private const int RecordedDays = 400;
    private static readonly string s_believed = FactKinds.NameOf<RootForecastBelieved>();
    private readonly ConcurrentQueue<ScoredForecast> _asTheyCame = new();
    private (long Position, ForecastScore Score)? _heldBack;
    private (long Position, ForecastScore Score)? _recorded;
    private BandWidening _widening = BandWidening.None;

    private async Task<ScoreSheet> ScoresAsync(CancellationToken cancel)
    {
        var position = await PositionAsync(cancel);
        if (_recorded is not { } known || known.Position != position)
        {
            _recorded = known = (position, ForecastScore.Of(await RecordedAsync(cancel)));
        }

        return new ScoreSheet(known.Score, ForecastScore.Of([.. _asTheyCame]), _heldBack?.Score);
    }

    /// <summary>A reading that has just arrived against the band that was believed before it: the fit has not seen it.</summary>
    private void ScoreAsTheyCame(PotCalibration fit, PotRecord record, PotHistory? before)
    {
        if (before is null || record.History is not { } history || !GoesOn(before, history) || history.Readings.Count == before.Readings.Count)
        {
            return;
        }

        var fresh = history.Readings.Skip(before.Readings.Count).ToList();
        foreach (var (asked, band) in fit.Forecast(history, fresh))
        {
            _asTheyCame.Enqueue(new ScoredForecast(_widening.Widen(asked.Kind, band), asked.Value, record.At(asked.Hours).Ticks / (double)TimeSpan.TicksPerHour));
        }
    }

    /// <summary>
    /// Fits the bench without the last visit to each pot, and without the last look at its medium, and looks how that visit came out; bands are then widened as much as it shows. As much work as a first fit, so it is
    /// done once per start and after a hundred new facts.
    /// </summary>
    private async Task CheckBandsAsync(IProgress<CalibrationProgress> progress, CancellationToken cancel)
    {
        if (database.Learned is not { } learned || (_heldBack is { } known && learned.Position - known.Position < 100))
        {
            return;
        }

        var held = await Task.Run(() => HeldBack([.. learned.Records.Values.Select(record => record.History).OfType<PotHistory>()], Tests(), progress, cancel), cancel);
        _heldBack = (learned.Position, ScoreOf(held));
        _widening = BandWidening.Of(held);
        Show(learned);
    }

    /// <summary>Widened by what the other half of the pots shows: a factor must not be scored on the readings it was taken from.</summary>
    internal static ForecastScore ScoreOf(IReadOnlyList<HeldReading> held)
    {
        var pots = held.Select(one => one.PotId).Distinct().Order().ToList();
        var scored = new List<ScoredForecast>();
        foreach (var half in new[] { 0, 1 })
        {
            var mine = pots.Where((_, i) => i % 2 == half).ToHashSet();
            var widening = BandWidening.Of([.. held.Where(one => !mine.Contains(one.PotId))]);
            scored.AddRange(held.Where(one => mine.Contains(one.PotId)).Select(one => new ScoredForecast(widening.Widen(one.Reading.Kind, one.Band), one.Reading.Value, one.Reading.Hours)));
        }

        return ForecastScore.Of(scored);
    }

    internal static IReadOnlyList<HeldReading> HeldBack(IReadOnlyList<PotHistory> histories, IReadOnlyList<SoakTest> soaks, IProgress<CalibrationProgress>? progress, CancellationToken cancel)
    {
        var held = histories.Where(history => Visits(history) >= LeastVisits).ToDictionary(history => history.Id, history =>
        {
            List<PotReading> Last(IEnumerable<PotReading> among)
            {
                var all = among.ToList();
                return all.Count == 0 ? [] : [.. all.Where(reading => reading.Hours > all.Max(other => other.Hours) - VisitHours)];
            }

            // Where a pot has a reservoir, what is read last is mostly its water; the last that was read of the medium says whether the root is known.
            return Last(history.Readings).Union(Last(history.Readings.Where(reading => reading.Kind is ReadingKind.MediumPH or ReadingKind.MediumEc))).OrderBy(reading => reading.Hours).ToList();
        });
        if (held.Count == 0)
        {
            return [];
        }

        var fit = PotCalibration.Fit(
            histories.Select(history => held.TryGetValue(history.Id, out var hidden) ? history with { Readings = [.. history.Readings.Except(hidden)], UntilHours = hidden[0].Hours } : history), soaks,
            progress: progress is null ? null : new Renamed(progress), cancellation: cancel);
        return [.. histories.Where(history => held.ContainsKey(history.Id)).SelectMany(history => fit.Forecast(history, held[history.Id]).Select(pair => new HeldReading(history.Id, pair.Asked, pair.Band)))];
    }

    private static int Visits(PotHistory history)
    {
        var (visits, last) = (0, double.NegativeInfinity);
        foreach (var hours in history.Readings.Select(reading => reading.Hours).Order())
        {
            if (hours > last + VisitHours)
            {
                (visits, last) = (visits + 1, hours);
            }
        }

        return visits;
    }

    /// <summary>Forecasts of the last 400 days as they were written with a feed, against what was read before anything else was poured: levels, and the water of the medium as it ran out.</summary>
    private Task<IReadOnlyList<ScoredForecast>> RecordedAsync(CancellationToken cancel) => database.ReadAsync<IReadOnlyList<ScoredForecast>>(async db =>
    {
        var since = (await NowAsync(cancel)).Date.AddDays(-RecordedDays);
        var (stored, day) = (FactWhen.ToStored(since), DateOnly.FromDateTime(since));
        var feeds = (await db.Feedings.Where(feeding => feeding.Day >= day).Select(feeding => new { feeding.FactId, feeding.PlantId, feeding.Day }).ToListAsync(cancel)).ToLookup(feeding => feeding.PlantId);
        var standing = feeds.SelectMany(plant => plant.Select(feeding => feeding.FactId)).ToHashSet();
        var readings = (await db.TakenReadings.Where(reading => reading.PotId != null && (reading.Of == ReadingOf.Reservoir || reading.Of == ReadingOf.Runoff) && string.Compare(reading.At, stored) >= 0).ToListAsync(cancel))
            .ToLookup(reading => reading.PotId!.Value);
        var volumes = await db.Pots.ToDictionaryAsync(pot => pot.Id, pot => pot.ReservoirLitres, cancel);
        var scored = new List<ScoredForecast>();
        // One at a time: the forecasts of a year of 500 plants are tens of megabytes.
        var believed = db.Facts.Where(fact => string.Compare(fact.Earliest, stored) >= 0 && fact.Kind == s_believed).OrderBy(fact => fact.Earliest).Select(fact => new { fact.Kind, fact.Version, fact.Payload, fact.Earliest });
        await foreach (var fact in believed.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (FactKinds.Read(fact.Kind, fact.Version, fact.Payload) is not RootForecastBelieved { Moments.Count: > 1 } forecast || !standing.Contains(forecast.FeedFactId))
            {
                continue;
            }

            var fed = FactWhen.FromStored(WhenPrecision.Minute, fact.Earliest, fact.Earliest, "").Earliest;
            var next = feeds[forecast.PlantId].Where(feeding => feeding.Day > DateOnly.FromDateTime(fed)).Select(feeding => (DateOnly?)feeding.Day).Min();
            foreach (var reading in readings[forecast.PotId].Where(reading => reading.AtLocal > fed && (next is null || DateOnly.FromDateTime(reading.AtLocal) <= next)))
            {
                // Bands of a fit have the pens' errors in them; those of the data sheet have not.
                var pens = !BelievedForecasts.HasPens(forecast.Model);
                Score(forecast, reading.Of == ReadingOf.Runoff ? reading.PH : null, moment => moment.PH, pens ? 0.16 : 0, fed, reading.AtLocal, scored);
                Score(forecast, reading.Of == ReadingOf.Runoff ? reading.EcMicrosiemensPerCm : null, moment => moment.EcMicrosiemensPerCm, pens ? null : 0, fed, reading.AtLocal, scored);
                Score(forecast, reading.LevelShare * volumes.GetValueOrDefault(forecast.PotId), moment => moment.ReservoirLitres, pens ? 0.04 * volumes.GetValueOrDefault(forecast.PotId) * 1.645 : 0, fed, reading.AtLocal, scored);
            }
        }

        return scored;
    }, cancel);

    // The pen's own error belongs in what it should read; null for an EC, whose error goes by its size.
    private static void Score(RootForecastBelieved forecast, double? value, Func<BelievedMoment, Expected> of, double? error, DateTime fed, DateTime at, List<ScoredForecast> scored)
    {
        var days = (at - fed).TotalDays;
        if (value is not { } read || days > forecast.Moments[^1].Day)
        {
            return;
        }

        var after = forecast.Moments.First(moment => moment.Day >= days);
        var before = forecast.Moments.Last(moment => moment.Day <= days);
        var share = after.Day > before.Day ? (days - before.Day) / (after.Day - before.Day) : 0;
        double Between(Func<Expected, double> edge) => edge(of(before)) + share * (edge(of(after)) - edge(of(before)));
        var (low, middle, high) = (Between(each => each.Low), Between(each => each.Value), Between(each => each.High));
        var wider = error ?? 0.05 * middle;
        scored.Add(new ScoredForecast(new Expected(middle - Math.Sqrt(Math.Pow(middle - low, 2) + wider * wider), middle, middle + Math.Sqrt(Math.Pow(high - middle, 2) + wider * wider)), read, at.Ticks / (double)TimeSpan.TicksPerHour));
    }

    private sealed class Renamed(IProgress<CalibrationProgress> progress) : IProgress<CalibrationProgress>
    {
        public void Report(CalibrationProgress value) => progress.Report(value with { Words = "asking a fit without the last visits how they came out" });
    }
}
