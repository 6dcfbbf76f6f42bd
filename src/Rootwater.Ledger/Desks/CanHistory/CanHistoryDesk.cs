using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The history of cans over the ledger.</summary>
public sealed class CanHistoryDesk : ICanHistoryDesk, IDisposable
{
    private readonly BenchDatabase _database;
    private readonly TimeProvider _clock;
    private readonly CanBook _book;

    public CanHistoryDesk(BenchDatabase database, TimeProvider clock) => (_database, _clock, _book) = (database, clock, new CanBook(database));

    /// <summary>The reconciliation as it stands, for the desks beside this one.</summary>
    internal Task<CanBookPage> OpenAsync(CancellationToken cancel) => _book.OpenAsync(cancel);

    public async Task<CanHistoryView> ListAsync(int most = 100, CancellationToken cancel = default)
    {
        var page = await _book.OpenAsync(cancel);
        var lines = page.Cans.Values.Where(can => page.Judgements.ContainsKey(can.Id)).OrderByDescending(can => can.Position).Take(Math.Clamp(most, 1, 5000)).Select(can => Line(page, can)).ToList();
        return new CanHistoryView(
            lines, page.Judgements.Count, page.Judgements.Values.Count(IsRead), ChartLimits.Usual, [.. Corrections(page).Where(each => each.IsTold)]);
    }

    public async Task<CanExplained?> GetAsync(Guid canId, CancellationToken cancel = default)
    {
        var page = await _book.OpenAsync(cancel);
        if (page.Cans.GetValueOrDefault(canId) is not { } can || page.Judgements.GetValueOrDefault(canId) is not { } judged)
        {
            return null;
        }

        var (line, record) = (Line(page, can), page.Records[canId].Record);
        return new CanExplained
        {
            Line = line,
            Explanations = judged.Explanations,
            CheckFirst = judged.CheckFirst,
            KnownAlready = Known(page, judged),
            Words = Words(line, judged),
            EcPen = record.EcPenName ?? record.EcPenId,
            PHPen = record.PHPenName ?? record.PHPenId,
            ReadBefore = page.Learned.Cans.TakeWhile(each => each.CanId != canId).Count(IsRead),
        };
    }

    public async Task<IReadOnlyList<CorrectionLine>> CorrectionsAsync(CancellationToken cancel = default) => [.. Corrections(await _book.OpenAsync(cancel))];

    public async Task<LearnedReading> ExpectAsync(CanPlan can, CancellationToken cancel = default)
    {
        var page = await _book.OpenAsync(cancel);
        var (uses, today) = await _database.ReadAsync(
            async db => (StepUses.Of(can, await BenchReader.CupboardAsync(db, cancel)).ToLookup(use => use.Step), BenchClock.DayAt(_clock.GetUtcNow(), (await BenchReader.BenchAsync(db, cancel)).Zone)), cancel);
        if (CanRecords.Of(KeptCan.Of(can, today, long.MaxValue, uses), page.World, page.Cans) is not { } booked)
        {
            throw new EntryException("can", can.Letter, "a can filled with a water of this bench");
        }

        // What is believed shifts the card's own figure: the two ways to it must not differ by their rounding.
        var expected = page.Learned.Expect(booked.Record);
        var (ec, ph) = (can.EcMicrosiemensPerCm.Value / expected.EcByCard.Value, can.PH.Value - expected.PHByCard.Value);
        return new LearnedReading(
            new Expected(expected.EcAsLearned.Low * ec, expected.EcAsLearned.Value * ec, expected.EcAsLearned.High * ec),
            new Expected(expected.PHAsLearned.Low + ph, expected.PHAsLearned.Value + ph, expected.PHAsLearned.High + ph),
            Known(page, expected),
            page.Learned.Cans.Count(IsRead));
    }

    public void Dispose() => _book.Dispose();

    private static bool IsRead(CanJudgement can) => can.MeasuredEc is not null || can.MeasuredPH is not null;

    private static CanHistoryLine Line(CanBookPage page, KeptCan can)
    {
        var (judged, booked) = (page.Judgements[can.Id], page.Records[can.Id]);
        Expected OnPen(Expected at25) => new(at25.Low * booked.EcShown, at25.Value * booked.EcShown, at25.High * booked.EcShown);
        return new CanHistoryLine
        {
            CanId = can.Id,
            Letter = can.Letter,
            Vessel = can.Vessel,
            Litres = can.Litres,
            MixedOn = can.MixedOn,
            Mark = !IsRead(judged) ? CanMark.NotRead : judged.OutOfControl ? CanMark.Out : judged.Warns ? CanMark.Warns : CanMark.Quiet,
            EcByCard = OnPen(judged.EcByCard),
            EcAsLearned = OnPen(judged.EcAsLearned),
            MeasuredEc = can.Ec?.Value,
            PHByCard = judged.PHByCard,
            PHAsLearned = judged.PHAsLearned,
            MeasuredPH = can.PH?.Value,
            EcDeviation = judged.EcDeviation,
            PHDeviation = judged.PHDeviation,
            EcMoving = judged.EcMoving,
            PHMoving = judged.PHMoving,
            Likeliest = judged.Explanations.Count > 0 ? judged.Explanations[0].What : null,
        };
    }

    private static List<string> Known(CanBookPage page, CanJudgement judged) => [.. judged.Known.Select(known => CorrectionWords.Of(known, Name(page, known.Correction.Source)))];

    private static IEnumerable<CorrectionLine> Corrections(CanBookPage page) => page.Learned.Corrections
        .OrderByDescending(each => DateOnly.FromDateTime(each.LastAt.UtcDateTime)).ThenBy(each => each.Source.Kind).ThenBy(each => each.Source.Name, StringComparer.Ordinal)
        .Select(each => new CorrectionLine(
            each.Source.Kind, each.Source.Id, Name(page, each.Source), each.Value, CorrectionWords.UnitOf(each.Source.Kind), each.Cans, DateOnly.FromDateTime(each.LastAt.UtcDateTime), each.IsTold,
            CorrectionWords.Of(each, Name(page, each.Source))));

    // One lot from another by the day it was bought.
    private static string Name(CanBookPage page, ErrorSource source) =>
        source.Kind is ErrorSourceKind.LotStrength or ErrorSourceKind.LotAcidity && Guid.TryParse(source.Id, out var lot) && page.World.LotBoughtOn.GetValueOrDefault(lot) is { } bought
            ? FactWords.Say($"{source.Name} (bought {bought:yyyy-MM-dd})")
            : source.Name;

    private static string Words(CanHistoryLine line, CanJudgement judged)
    {
        if (line.Mark == CanMark.NotRead)
        {
            return "No pen was held into this can yet.";
        }

        var off = Off(line);
        if (line.Mark == CanMark.Quiet)
        {
            return line.EcInCard && line.PHInCard
                ? "The pens agree with what was expected."
                : $"{off}: outside the card, and within what earlier cans taught.";
        }

        var moved = !judged.Warns || (Math.Abs(judged.EcDeviation ?? 0) <= 3 && Math.Abs(judged.PHDeviation ?? 0) <= 3 && line.Mark == CanMark.Out);
        return $"{off}{(moved ? "; by itself this happens, but the last cans lean the same way" : line.Mark == CanMark.Warns ? "; one can in twenty does so by chance" : "")}.";
    }

    private static string Off(CanHistoryLine line) => string.Join("; ", new[]
    {
        line.MeasuredEc is { } ec ? FactWords.Say($"EC reads {Math.Abs(ec / line.EcAsLearned.Value - 1) * 100:0.#} % {(ec < line.EcAsLearned.Value ? "low" : "high")}") : null,
        line.MeasuredPH is { } ph ? FactWords.Say($"pH reads {Math.Abs(ph - line.PHAsLearned.Value):0.00} {(ph < line.PHAsLearned.Value ? "low" : "high")}") : null,
    }.OfType<string>());
}
