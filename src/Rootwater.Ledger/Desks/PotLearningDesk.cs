using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>What the pots teach, over the ledger.</summary>
/// <remarks>
/// One fit is kept in hand (<see cref="LearnedPots"/>, on the database, where whoever forecasts finds it). The first is made of all records; after that only the plants about
/// which something was written are read again, and each pot of theirs that has changed is fitted again beside the others.
/// </remarks>
public sealed partial class PotLearningDesk(BenchDatabase database, IFactDesk facts, TimeProvider clock) : IPotLearningDesk, IDisposable
{
    private readonly SemaphoreSlim _fitting = new(1, 1);
    private readonly Lock _background = new();
    private readonly CancellationTokenSource _closing = new();
    private PotRecordReader _reader = new();
    private DateOnly _readOn;
    private CancellationTokenSource? _running;
    private (double Share, string Words)? _progress;
    private string? _trouble;
    private bool _stopped;

    public async Task RefreshAsync(IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default)
    {
        await _fitting.WaitAsync(cancel);
        try
        {
            await FollowAsync(new Told(this, progress), cancel);
            await CheckBandsAsync(new Told(this, progress), cancel);
            await ScoresAsync(cancel);
            _trouble = null;
        }
        finally
        {
            _progress = null;
            _fitting.Release();
        }
    }

    public void RefreshSoon()
    {
        lock (_background)
        {
            if (_running is not null || _closing.IsCancellationRequested)
            {
                return;
            }

            _running = CancellationTokenSource.CreateLinkedTokenSource(_closing.Token);
            _stopped = false;
        }

        _ = Task.Run(BackgroundAsync, CancellationToken.None);
    }

    public void Stop()
    {
        lock (_background)
        {
            _stopped = _running is not null;
            _running?.Cancel();
        }
    }

    public void Dispose()
    {
        _closing.Cancel();
        Stop();
    }

    private async Task BackgroundAsync()
    {
        try
        {
            await RefreshAsync(null, _running!.Token);
        }
        catch (OperationCanceledException)
        {
            // Stopped: what was there stands.
        }
        catch (Exception fault) when (fault is EntryException or LedgerProblem or Growing.Pots.PotInputException)
        {
            _trouble = fault.Message;
        }
        finally
        {
            lock (_background)
            {
                _running?.Dispose();
                _running = null;
            }
        }
    }

    /// <summary>Reads on from where the fit stands.</summary>
    private async Task FollowAsync(IProgress<CalibrationProgress> progress, CancellationToken cancel)
    {
        var now = await NowAsync(cancel);
        var today = DateOnly.FromDateTime(now);
        var position = await PositionAsync(cancel);
        var learned = database.Learned;
        if (learned is not null && learned.Position == position && _readOn == today)
        {
            return;
        }

        // Once a month records begin later, and the air of the places is looked at again; an older ledger may have been put back.
        var all = learned is null || position < learned.Position || _readOn.Month != today.Month;
        if (all)
        {
            _reader = new PotRecordReader();
        }

        var touched = all ? null : await TouchedAsync(learned!.Position, position, cancel);
        var soaksChanged = !all && touched!.Value.Soaks;
        var records = all || touched!.Value.Plants.Count > 0 ? await database.ReadAsync(db => _reader.ReadAsync(db, now, all ? null : touched!.Value.Plants, cancel), cancel) : [];
        _readOn = today;
        if (all || soaksChanged)
        {
            records = all ? records : await database.ReadAsync(db => _reader.ReadAsync(db, now, null, cancel), cancel);
            await FitAllAsync(records, position, progress, cancel);
            return;
        }

        await Task.Run(() => FitOn(learned!, records, touched!.Value.Plants, position, progress, cancel), cancel);
    }

    private async Task FitAllAsync(List<PotRecord> records, long position, IProgress<CalibrationProgress> progress, CancellationToken cancel)
    {
        progress.Report(new CalibrationProgress(0.01, "reading what was poured and read"));
        _soaks = await SoaksAsync(cancel);
        var fit = await Task.Run(() => PotCalibration.Fit(records.Select(record => record.History).OfType<PotHistory>(), Tests(), progress: progress, cancellation: cancel), cancel);
        Show(new LearnedPots(position, fit, records.ToDictionary(record => record.Pot.Id)));
    }

    private void FitOn(LearnedPots learned, List<PotRecord> read, IReadOnlyCollection<Guid> plants, long position, IProgress<CalibrationProgress> progress, CancellationToken cancel)
    {
        // Pots that their plants left, and plants that left the bench, are no longer shown; what they taught stays in the pool.
        var records = learned.Records.Values.Where(record => !plants.Contains(record.Plant.Id)).Concat(read).ToDictionary(record => record.Pot.Id);
        var changed = read.Where(record => record.History is { Readings.Count: > 0 } && !record.SaysTheSame(learned.Records.GetValueOrDefault(record.Pot.Id))).ToList();
        var fit = learned.Fit;
        foreach (var (i, record) in changed.Index())
        {
            cancel.ThrowIfCancellationRequested();
            var before = learned.Records.GetValueOrDefault(record.Pot.Id)?.History;
            ScoreAsTheyCame(fit, record, before);
            fit = fit.With(record.History!, anew: before is null || !GoesOn(before, record.History!));
            progress.Report(new CalibrationProgress((i + 1.0) / changed.Count, "what was poured and read since"));
        }

        Show(new LearnedPots(position, fit, records));
    }

    // Whether a record only had something added at its end, so that the fit may go on from where it stood.
    private static bool GoesOn(PotHistory before, PotHistory after) =>
        before.Start == after.Start && before.Setup == after.Setup && before.Climate == after.Climate && before.Air.SequenceEqual(after.Air)
        && before.Readings.Count <= after.Readings.Count && before.Readings.SequenceEqual(after.Readings.Take(before.Readings.Count))
        && before.Events.Count <= after.Events.Count && before.Events.SequenceEqual(after.Events.Take(before.Events.Count));

    private void Show(LearnedPots learned)
    {
        learned = learned.With(_widening);
        learned.Prepare();
        database.Learned = learned;
        _lines = new Shown(learned, []);
        _pours.Clear();
    }

    private async Task<(IReadOnlyCollection<Guid> Plants, bool Soaks)?> TouchedAsync(long from, long to, CancellationToken cancel) => await database.ReadAsync(async db =>
    {
        var subjects = await db.Facts.Where(fact => fact.Position > from && fact.Position <= to).Select(fact => new { fact.SubjectId, fact.Kind }).Distinct().ToListAsync(cancel);
        var ids = subjects.Select(subject => subject.SubjectId).Distinct().ToList();
        var plants = await db.Plants.Where(plant => ids.Contains(plant.Id)).Select(plant => plant.Id).ToListAsync(cancel);
        // A soak taken back is a fact about the soak, not a soak.
        var soaks = _soaks.Select(soak => soak.SoakId).ToHashSet();
        return (plants.ToHashSet(), subjects.Any(subject => subject.Kind == s_soaked || soaks.Contains(subject.SubjectId)));
    }, cancel);

    private Task<long> PositionAsync(CancellationToken cancel) => database.ReadAsync(db => NewestFact.PositionAsync(db, cancel), cancel);

    private Task<DateTime> NowAsync(CancellationToken cancel) => database.ReadAsync(async db =>
        BenchClock.MinuteAt(clock.GetUtcNow(), (await BenchReader.BenchAsync(db, cancel)).Zone).Latest, cancel);

    /// <summary>Progress for whoever waits, and for the pages that do not.</summary>
    private sealed class Told(PotLearningDesk desk, IProgress<CalibrationProgress>? more) : IProgress<CalibrationProgress>
    {
        public void Report(CalibrationProgress value)
        {
            desk._progress = (value.Share, value.Words);
            more?.Report(value);
        }
    }
}
