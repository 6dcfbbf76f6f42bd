using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <content>How often the bands were right.</content>
public sealed partial class PotLearningDesk
{
    // A visit is what was read of a pot within a few hours; a pot read on fewer is not held back from.
    private const double VisitHours = 12;
    private const int LeastVisits = 4;

    private readonly ConcurrentQueue<ScoredForecast> _asTheyCame = new();
    private (long Position, ForecastScore Score)? _heldBack;
    private (long Position, ForecastScore Score, IReadOnlyList<string> Corrected)? _recorded;
    private BandWidening _widening = BandWidening.None;

    private async Task<ScoreSheet> ScoresAsync(CancellationToken cancel)
    {
        var position = await PositionAsync(cancel);
        if (_recorded is not { } known || known.Position != position)
        {
            _recorded = known = await RecordedAsync(position, cancel);
        }

        return new ScoreSheet(known.Score, ForecastScore.Of([.. _asTheyCame]), _heldBack?.Score, known.Corrected);
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

    private async Task<(long Position, ForecastScore Score, IReadOnlyList<string> Corrected)> RecordedAsync(long position, CancellationToken cancel)
    {
        var now = await NowAsync(cancel);
        var met = await RecordedForecasts.ReadAsync(database, now, cancel);
        var errors = RecordedForecasts.ErrorsOf(met);
        database.ForecastErrors = new ForecastErrorsInHand(DateOnly.FromDateTime(now), errors);
        return (position, ForecastScore.Of([.. met.Select(one => new ScoredForecast(one.Believed, one.Read, one.At.Ticks / (double)TimeSpan.TicksPerHour))]), [.. errors.Pots.Select(pots => BandCorrectionWords.Of(pots, errors.Of(pots)))]);
    }

    private sealed class Renamed(IProgress<CalibrationProgress> progress) : IProgress<CalibrationProgress>
    {
        public void Report(CalibrationProgress value) => progress.Report(value with { Words = "asking a fit without the last visits how they came out" });
    }
}
