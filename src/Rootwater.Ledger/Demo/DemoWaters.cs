using Rootwater.Growing.Waters;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Demo;

/// <summary>Rain from a barrel and hard water from the tap.</summary>
internal sealed class DemoWaters
{
    private readonly List<(NewWater Water, NewWaterReport Report, WaterReportPreview Read)> _waters = [];

    public DemoWaters(Func<Guid> newId)
    {
        Rain = Add(
            new NewWater { Id = newId(), Name = "rain barrel", AvailableLitres = 180 },
            newId(), "laboratory, one sample", WaterOrigin.Rain, 15,
            [
                new("pH", 6.2, ""), new("EC", 26, "µS/cm"), new("Ca", 1.9, "mg/L"), new("Mg", 0.3, "mg/L"), new("Na", 1.4, "mg/L"), new("K", 0.4, "mg/L"),
                new("Cl", 2.4, "mg/L"), new("SO4", 2.2, "mg/L"), new("NO3", 1.6, "mg/L"), new("alkalinity", 0.06, "mmol/L"), new("Zn", 0.04, "mg/L"),
            ]);
        Tap = Add(
            new NewWater { Id = newId(), Name = "tap water", PricePerLitre = 0.003m },
            newId(), "supplier's yearly report", WaterOrigin.Ground, 12,
            [
                new("pH", 7.4, ""), new("EC", 610, "µS/cm"), new("Ca", 92, "mg/L"), new("Mg", 12, "mg/L"), new("Na", 22, "mg/L"), new("K", 3, "mg/L"),
                new("HCO3", 275, "mg/L"), new("Cl", 40, "mg/L"), new("SO4", 38, "mg/L"), new("NO3", 15, "mg/L"),
            ]);
    }

    public WaterSource Rain { get; }
    public WaterSource Tap { get; }

    public IEnumerable<(Guid Subject, FactPayload Payload, FactWhen? When)> Facts(DateOnly today)
    {
        foreach (var (water, report, read) in _waters)
        {
            yield return (water.Id, new WaterSet(water.Id, water.Name, water.AvailableLitres, water.PricePerLitre), null);
            yield return (water.Id, new WaterReported(
                report.Id, water.Id, report.Values, report.Origin, report.TemperatureCelsius, report.From,
                read.Source!, read.PH, read.EcMicrosiemensPerCm, read.AlkalinityMeqPerLitre, read.ChargeImbalancePercent),
                FactWhen.OnDay(today.AddDays(-60), "UTC"));
        }
    }

    private WaterSource Add(NewWater water, Guid reportId, string from, WaterOrigin origin, double celsius, IReadOnlyList<ReportedValue> values)
    {
        var report = new NewWaterReport { Id = reportId, WaterId = water.Id, SampledOn = default, Values = values, Origin = origin, TemperatureCelsius = celsius, From = from };
        var read = WaterReports.Read(report);
        var source = read.Source ?? throw new InvalidOperationException($"The demo's {water.Name} cannot be read: {string.Join("; ", read.Problems)}");
        _waters.Add((water, report, read));
        return source with { Id = water.Id, Name = water.Name, AvailableLitres = water.AvailableLitres, PricePerLitre = water.PricePerLitre };
    }
}
