using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Pens over the ledger; what is believed of them comes from the history of cans.</summary>
public sealed class PenDesk(BenchDatabase database, IFactDesk facts, CanHistoryDesk history, TimeProvider clock) : IPenDesk
{
    private const double DaysPerMonth = 30.44;

    public async Task<IReadOnlyList<PenView>> ListAsync(CancellationToken cancel = default)
    {
        var page = await history.OpenAsync(cancel);
        var (today, fresh) = await TodayAsync(page.World.Pens, cancel);
        return [.. page.World.Pens.Pens.OrderBy(pen => pen.RetiredOn is not null).ThenBy(pen => pen.Name, StringComparer.OrdinalIgnoreCase).Select(pen => View(pen, page, today, fresh))];
    }

    public async Task<PenView> SaveAsync(Pen pen, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        await facts.WriteAsync([new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = pen.Id, Payload = new PenSet(pen) }], cancel: cancel);
        return (await ListAsync(cancel)).First(view => view.Pen.Id == pen.Id);
    }

    public async Task<PenView> CalibrateAsync(NewPenCalibration calibration, CancellationToken cancel = default)
    {
        var when = calibration.On is { } day ? FactWhen.OnDay(day, await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Zone, cancel)) : null;
        await facts.WriteAsync(
            [
                new NewFact
                {
                    Id = calibration.Id,
                    SubjectId = calibration.PenId,
                    Payload = new PenCalibrated(calibration.PenId, calibration.Standards, calibration.Adjusted, calibration.Note),
                    When = when,
                },
            ],
            cancel: cancel);
        return (await ListAsync(cancel)).First(view => view.Pen.Id == calibration.PenId);
    }

    public Task UndoAsync(Guid calibrationId, CancellationToken cancel = default) => facts.UndoAsync(calibrationId, NewId(), cancel: cancel);

    // The day of the bench, and which calibrations are of the last hour.
    private Task<(DateOnly Today, HashSet<Guid> Fresh)> TodayAsync(PensInLedger pens, CancellationToken cancel) => database.ReadAsync(
        async db =>
        {
            var now = clock.GetUtcNow();
            var since = (now - FactGate.Undoable - DateTimeOffset.UnixEpoch).Ticks / TimeSpan.TicksPerMicrosecond;
            var last = pens.Calibrations.TakeLast(50).Select(each => each.FactId).ToList();
            var fresh = await db.Facts.Where(fact => last.Contains(fact.Id) && fact.RecordedMicroseconds >= since).Select(fact => fact.Id).ToListAsync(cancel);
            return (BenchClock.DayAt(now, (await BenchReader.BenchAsync(db, cancel)).Zone), fresh.ToHashSet());
        },
        cancel);

    private static PenView View(Pen pen, CanBookPage page, DateOnly today, HashSet<Guid> fresh)
    {
        var log = Log(pen, page.World.Pens.Calibrations.Where(each => each.Said.PenId == pen.Id), fresh);
        var off = page.Learned[pen.Kind == PenKind.Ec ? ErrorSourceKind.EcPen : ErrorSourceKind.PHPenOffset, pen.Id.ToString()];
        var slope = pen.Kind == PenKind.PH ? page.Learned[ErrorSourceKind.PHPenSlope, pen.Id.ToString()] : null;
        var (due, words) = Due(pen, log, off, today);
        return new PenView
        {
            Pen = pen,
            Log = log,
            Off = off?.Value,
            Slope = slope?.Value,
            Effect = Effect(pen, off),
            DueOn = due,
            IsDue = pen.RetiredOn is null && due <= today,
            DueWords = words,
            CansRead = page.Records.Values.Count(can => pen.Kind == PenKind.Ec
                ? can.Record.EcPenId == pen.Id.ToString() && can.Record.MeasuredEcMicrosiemensPerCm is not null
                : can.Record.PHPenId == pen.Id.ToString() && can.Record.MeasuredPH is not null),
        };
    }

    private static List<CalibrationView> Log(Pen pen, IEnumerable<StandingCalibration> calibrations, HashSet<Guid> fresh)
    {
        var log = new List<CalibrationView>();
        foreach (var each in calibrations)
        {
            var read = each.Said.Standards.Select(standard => Standard(pen, standard)).ToList();
            var day = DateOnly.FromDateTime(each.At.UtcDateTime);
            log.Add(new CalibrationView(each.FactId, day, read, each.Said.Adjusted, log.Count > 0 ? Drift(log[^1], day, read) : null, each.Said.Note, fresh.Contains(each.FactId)));
        }

        log.Reverse();
        return log;
    }

    private static StandardView Standard(Pen pen, StandardRead read)
    {
        var expected = PenStandards.Shown(pen, read.StandardAt25, read.TemperatureCelsius);
        return new StandardView(read.StandardAt25, read.TemperatureCelsius, expected, read.Reading, pen.Kind == PenKind.Ec ? read.Reading / expected - 1 : read.Reading - expected);
    }

    // In the standards that were used both times, else over all: a pen that was set then starts from zero.
    private static double? Drift(CalibrationView before, DateOnly on, IReadOnlyList<StandardView> read)
    {
        var days = on.DayNumber - before.On.DayNumber;
        if (days < 7)
        {
            return null;
        }

        var both = read.Where(each => before.Standards.Any(earlier => Math.Abs(earlier.At25 - each.At25) < 1e-6)).ToList();
        var now = (both.Count > 0 ? both : read).Average(each => each.Off);
        var then = before.Adjusted ? 0 : (both.Count > 0 ? before.Standards.Where(each => both.Any(later => Math.Abs(later.At25 - each.At25) < 1e-6)) : before.Standards).Average(each => each.Off);
        return (now - then) / (days / DaysPerMonth);
    }

    private static (DateOnly On, string Words) Due(Pen pen, List<CalibrationView> log, Correction? off, DateOnly today)
    {
        if (log.Count == 0)
        {
            return (today, "It was never held into a standard: until then its readings are no better than the usual pen's.");
        }

        var sd = off is null ? double.PositiveInfinity : (off.Value.High - off.Value.Low) / 2 / 1.96;
        var days = PenDue.DaysUntil(pen.Kind, sd);
        var from = off is null ? log[0].On : DateOnly.FromDateTime(off.LastAt.UtcDateTime);
        // However sure the cans make it, practice counts from the last time in a standard.
        var latest = log[0].On.AddDays(PenDue.DaysUntil(pen.Kind, 0));
        var on = from.AddDays(days) is var known && known < latest ? known : latest;
        on = on < log[0].On ? log[0].On : on;
        return (on, pen.Kind == PenKind.Ec
            ? FactWords.Say($"By then its error may exceed {PenDue.MostEcShare * 100:0.#} %.")
            : FactWords.Say($"By then its error may exceed {PenDue.MostPH:0.00} pH."));
    }

    private static string Effect(Pen pen, Correction? off)
    {
        if (off is null)
        {
            return "Nothing is known of its error yet.";
        }

        var (value, more) = (off.Value, off.Value.Value > 0);
        if (!off.IsTold)
        {
            return pen.Kind == PenKind.Ec
                ? FactWords.Say($"It may be off by {value.Low * 100:+0.0;−0.0} to {value.High * 100:+0.0;−0.0} %; no error is told, and none is corrected.")
                : FactWords.Say($"It may be off by {value.Low:+0.00;−0.00} to {value.High:+0.00;−0.00}; no error is told, and none is corrected.");
        }

        return pen.Kind == PenKind.Ec
            ? FactWords.Say($"It reads {Math.Abs(value.Value) * 100:0.0} % too {(more ? "high" : "low")} ({value.Low * 100:+0.0;−0.0} to {value.High * 100:+0.0;−0.0} %): a can of 0.83 mS/cm shows {0.83 * Math.Exp(value.Value):0.00}. Expected readings count it in.")
            : FactWords.Say($"It reads {Math.Abs(value.Value):0.00} too {(more ? "high" : "low")} ({value.Low:+0.00;−0.00} to {value.High:+0.00;−0.00}): a can of pH 5.8 shows {5.8 + value.Value:0.00}. Expected readings count it in.");
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());
}
