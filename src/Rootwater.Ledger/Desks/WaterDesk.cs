using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Waters over the ledger.</summary>
public sealed class WaterDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IWaterDesk
{
    public Task<IReadOnlyList<WaterView>> ListAsync(CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<WaterView>>(async db =>
    {
        var reports = (await db.WaterReports.ToListAsync(cancel)).ToLookup(report => report.WaterId);
        return [.. (await db.Waters.ToListAsync(cancel)).OrderBy(water => water.Name, StringComparer.Ordinal).Select(water => View(water, reports[water.Id]))];
    }, cancel);

    public Task<WaterView?> GetAsync(Guid waterId, CancellationToken cancel = default) => database.ReadAsync(async db =>
        await db.Waters.FirstOrDefaultAsync(water => water.Id == waterId, cancel) is { } water
            ? View(water, await db.WaterReports.Where(report => report.WaterId == waterId).ToListAsync(cancel))
            : null, cancel);

    public async Task<WaterView> SaveWaterAsync(NewWater water, CancellationToken cancel = default)
    {
        var problems = new List<EntryProblem>();
        if (string.IsNullOrWhiteSpace(water.Name))
        {
            problems.Add(new EntryProblem("name", water.Name, "a name, for example \"rain barrel\""));
        }

        if (water.AvailableLitres is { } litres && !(litres >= 0 && litres <= 1_000_000))
        {
            problems.Add(new EntryProblem("litres to draw on", Entered(litres), "0 to 1,000,000 L, or nothing for as much as one likes"));
        }

        if (water.PricePerLitre is < 0 or > 1000)
        {
            problems.Add(new EntryProblem("price per litre", Entered(water.PricePerLitre), "0 to 1000"));
        }

        if (problems.Count > 0)
        {
            throw new EntryException(problems);
        }

        var payload = new WaterSet(water.Id, water.Name.Trim(), water.AvailableLitres, water.PricePerLitre);
        var kept = await database.ReadAsync(db => db.Waters.FirstOrDefaultAsync(row => row.Id == water.Id, cancel), cancel);
        // Sent twice, it is said once.
        if (kept is null || new WaterSet(kept.Id, kept.Name, kept.AvailableLitres, kept.PricePerLitre) != payload)
        {
            await log.AppendAsync(new NewFact { Id = NewId(), SubjectId = water.Id, Payload = payload }, cancel);
        }

        return (await GetAsync(water.Id, cancel))!;
    }

    public WaterReportPreview Preview(NewWaterReport report) => WaterReports.Read(report);

    public async Task<WaterView> AddReportAsync(NewWaterReport report, CancellationToken cancel = default)
    {
        var read = Preview(report);
        if (read.Source is not { } source || read.Problems.Count > 0)
        {
            throw new EntryException(read.Problems);
        }

        var zone = await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Zone, cancel);
        await log.AppendAsync(
            new NewFact
            {
                Id = report.Id,
                SubjectId = report.WaterId,
                When = FactWhen.OnDay(report.SampledOn, zone),
                Payload = new WaterReported(
                    report.Id, report.WaterId, report.Values, report.Origin, report.TemperatureCelsius, report.From,
                    source, read.PH, read.EcMicrosiemensPerCm, read.AlkalinityMeqPerLitre, read.ChargeImbalancePercent),
            },
            cancel);
        return (await GetAsync(report.WaterId, cancel))!;
    }

    private static WaterView View(WaterRow water, IEnumerable<WaterReportRow> reports)
    {
        var newestFirst = reports.OrderByDescending(report => report.SampledOn).ThenByDescending(report => report.Position).ToList();
        return new WaterView
        {
            Id = water.Id,
            Name = water.Name,
            AvailableLitres = water.AvailableLitres,
            PricePerLitre = water.PricePerLitre,
            Source = newestFirst.Count > 0 ? BenchReader.Source(water, newestFirst[0]) : null,
            Reports =
            [
                .. newestFirst.Select(report => new WaterReportView(
                    new NewWaterReport
                    {
                        Id = report.Id,
                        WaterId = report.WaterId,
                        SampledOn = report.SampledOn,
                        Values = report.Values,
                        Origin = report.Origin,
                        TemperatureCelsius = report.TemperatureCelsius,
                        From = report.From,
                    },
                    new WaterReportPreview
                    {
                        Source = BenchReader.Source(water, report),
                        PH = report.PH,
                        EcMicrosiemensPerCm = report.EcMicrosiemensPerCm,
                        AlkalinityMeqPerLitre = report.AlkalinityMeqPerLitre,
                        ChargeImbalancePercent = report.ChargeImbalancePercent,
                        Problems = [],
                        Notes = report.Source.Notes,
                    })),
            ],
        };
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());

    private static string Entered(IFormattable value) => value.ToString(null, System.Globalization.CultureInfo.InvariantCulture);
}
