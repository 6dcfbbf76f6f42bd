using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>A calibration that stands.</summary>
internal sealed record StandingCalibration(Guid FactId, PenCalibrated Said, FactWhen When, DateTimeOffset At);

/// <summary>The pens of the bench and their logs, as the facts that stand tell them. There are few of them: they are folded whenever one is written.</summary>
internal sealed class PensInLedger
{
    /// <summary>What takes the place of a pen that nobody named.</summary>
    public const string NoEcPen = "EC pen", NoPHPen = "pH pen";

    public static IReadOnlyList<string> Kinds { get; } = [FactKinds.NameOf<PenSet>(), FactKinds.NameOf<PenCalibrated>()];

    private PensInLedger(IReadOnlyList<Pen> pens, IReadOnlyList<StandingCalibration> calibrations) => (Pens, Calibrations) = (pens, calibrations);

    public static PensInLedger None { get; } = new([], []);

    /// <summary>By name.</summary>
    public IReadOnlyList<Pen> Pens { get; }

    /// <summary>Oldest first.</summary>
    public IReadOnlyList<StandingCalibration> Calibrations { get; }

    public static async Task<PensInLedger> ReadAsync(LedgerContext db, CancellationToken cancel)
    {
        var kinds = Kinds;
        var facts = await db.Facts.AsNoTracking().Where(fact => kinds.Contains(fact.Kind)).ToListAsync(cancel);
        if (facts.Count == 0)
        {
            return None;
        }

        var undo = FactKinds.NameOf<FactUndone>();
        var ids = facts.Select(fact => (Guid?)fact.Id).ToList();
        facts.AddRange(await db.Facts.AsNoTracking().Where(fact => fact.Kind == undo && ids.Contains(fact.Corrects)).ToListAsync(cancel));
        var standing = PlantProjection.Standing([.. facts.OrderBy(fact => fact.Position)]).Select(fact => (Fact: fact, Said: FactKinds.Read(fact.Kind, fact.Version, fact.Payload))).ToList();
        var pens = standing.Where(each => each.Said is PenSet).GroupBy(each => ((PenSet)each.Said).Pen.Id).Select(group => ((PenSet)group.MaxBy(each => each.Fact.Position).Said).Pen);
        var calibrations = standing.Where(each => each.Said is PenCalibrated).Select(each => new StandingCalibration(each.Fact.Id, (PenCalibrated)each.Said, each.Fact.When, Moment(each.Fact)));
        return new PensInLedger([.. pens.OrderBy(pen => pen.Name, StringComparer.Ordinal).ThenBy(pen => pen.Id)], [.. calibrations.OrderBy(each => each.At)]);
    }

    public Pen? Find(Guid id) => Pens.FirstOrDefault(pen => pen.Id == id);

    /// <summary>The pen that took a reading: the one that was named, else the only one of its kind in use on the day; null where that cannot be told.</summary>
    public Pen? Used(PenKind kind, Guid? named, DateTimeOffset at)
    {
        if (named is { } id)
        {
            return Find(id);
        }

        var inUse = Pens.Where(pen => pen.Kind == kind && !(pen.RetiredOn <= DateOnly.FromDateTime(at.UtcDateTime))).Take(2).ToList();
        return inUse.Count == 1 ? inUse[0] : null;
    }

    /// <summary>What the reconciliation takes in. What a pen shows in a standard is given in terms of the printed value, its compensation taken out.</summary>
    public IEnumerable<PenCalibration> ToReconcile() =>
        from calibration in Calibrations
        let pen = Find(calibration.Said.PenId)
        where pen is not null
        from each in calibration.Said.Standards
        where CalibrationEntry.Check(pen, each.StandardAt25, each.Reading, each.TemperatureCelsius).Count == 0
        select new PenCalibration
        {
            PenId = pen.Id.ToString(),
            PenName = pen.Name,
            At = calibration.At,
            IsEc = pen.Kind == PenKind.Ec,
            StandardAt25 = each.StandardAt25,
            Reading = pen.Kind == PenKind.Ec ? each.Reading * each.StandardAt25 / PenStandards.ShownEc(each.StandardAt25, each.TemperatureCelsius, pen) : each.Reading,
            Celsius = each.TemperatureCelsius,
            Adjusted = calibration.Said.Adjusted,
        };

    // Of a calibration known to the day, the morning: pens are set before cans are mixed.
    private static DateTimeOffset Moment(Fact fact) => fact.When.Precision == WhenPrecision.Minute
        ? Utc(fact.When.Earliest, fact.When.Zone)
        : new DateTimeOffset(fact.When.EarliestDay.ToDateTime(new TimeOnly(6, 0)), TimeSpan.Zero);

    private static DateTimeOffset Utc(DateTime local, string zone) =>
        new DateTimeOffset(local, TimeZoneInfo.TryFindSystemTimeZoneById(zone, out var known) ? known.GetUtcOffset(local) : TimeSpan.Zero).ToUniversalTime();
}
