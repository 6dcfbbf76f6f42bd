using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Waters and their reports.</summary>
internal static class WaterProjection
{
    public static async Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case WaterSet set:
                var water = await db.Waters.FindAsync([set.WaterId], cancel);
                if (water is null)
                {
                    db.Waters.Add(water = new WaterRow { Id = set.WaterId, Name = set.Name });
                }

                (water.Name, water.AvailableLitres, water.PricePerLitre) = (set.Name, set.AvailableLitres, set.PricePerLitre);
                break;
            case WaterReported said:
                await Projector.RequiredAsync<WaterRow>(db, "water", cancel, said.WaterId);
                db.WaterReports.Add(new WaterReportRow
                {
                    Id = said.ReportId,
                    WaterId = said.WaterId,
                    SampledOn = fact.When.EarliestDay,
                    Position = fact.Position,
                    Values = said.Values,
                    Origin = said.Origin,
                    TemperatureCelsius = said.TemperatureCelsius,
                    From = said.From,
                    Source = said.Source,
                    PH = said.PH,
                    EcMicrosiemensPerCm = said.EcMicrosiemensPerCm,
                    AlkalinityMeqPerLitre = said.AlkalinityMeqPerLitre,
                    ChargeImbalancePercent = said.ChargeImbalancePercent,
                });
                break;
        }
    }
}
