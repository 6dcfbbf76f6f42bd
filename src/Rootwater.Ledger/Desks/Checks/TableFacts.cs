using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// Facts that have a desk of their own (cans, cupboard, waters, vessels) and come in from outside only as rows of their table: whom they are about,
/// and whether they can be. What their desk computes (a card's figures, a report's reading) is taken as the table tells it.
/// </summary>
internal static class TableFacts
{
    private const double MostGrams = 1e6, MostLitres = 10_000;

    /// <summary>Null for kinds that come in by no table.</summary>
    public static Guid? SubjectOf(FactPayload payload) => payload switch
    {
        ProductSet said => said.Product.Id,
        LotBought said => said.LotId,
        LotWeighed said => said.LotId,
        WaterSet said => said.WaterId,
        WaterReported said => said.WaterId,
        VesselSet said => said.VesselId,
        ToolsSet => Guid.Empty,
        CanSaved said => said.Card.Id,
        CanStepDone said => said.CanId,
        CanStepUndone said => said.CanId,
        CanRead said => said.CanId,
        CanPoured said => said.CanId,
        CanPourUndone said => said.CanId,
        CanRepaired said => said.CanId,
        CanRepairUndone said => said.CanId,
        RootForecastBelieved said => said.PlantId,
        _ => null,
    };

    /// <summary>Looks at one before it is told, inside the transaction. What it refers to is looked for by the projection.</summary>
    /// <exception cref="EntryException">It cannot be.</exception>
    public static async Task CheckAsync(LedgerContext db, NewFact fact, CancellationToken cancel)
    {
        var problems = new FactProblems();
        Shape(fact.Payload, problems);
        problems.Refuse();
        var taken = fact.Payload switch
        {
            LotBought said when await db.Lots.FindAsync([said.LotId], cancel) is not null => ("lot", said.LotId),
            WaterReported said when await db.WaterReports.FindAsync([said.ReportId], cancel) is not null => ("report", said.ReportId),
            CanSaved said when await db.Cans.FindAsync([said.Card.Id], cancel) is not null => ("can", said.Card.Id),
            _ => default((string, Guid)?),
        };
        if (taken is var (field, id))
        {
            throw new EntryException(field, id.ToString(), "a new id: this one is there already, told by another fact");
        }
    }

    private static void Shape(FactPayload payload, FactProblems problems)
    {
        switch (payload)
        {
            case ProductSet said:
                problems.Text("product", said.Product.Name, 200);
                problems.Range("price", (double?)said.Product.PricePerKg, 0, 1e6, "per kg");
                break;
            case LotBought said:
                problems.Range("grams", said.Grams, double.Epsilon, MostGrams, "g");
                problems.Text("note", said.Note, required: false);
                break;
            case LotWeighed said:
                problems.Range("gramsLeft", said.GramsLeft, 0, MostGrams, "g");
                problems.Text("why", said.Why, required: false);
                break;
            case WaterSet said:
                problems.Text("name", said.Name, 200);
                problems.Range("availableLitres", said.AvailableLitres, 0, 1e6, "L");
                problems.Range("pricePerLitre", (double?)said.PricePerLitre, 0, 1e6, "per L");
                break;
            case WaterReported said:
                problems.Range("temperatureCelsius", said.TemperatureCelsius, 0, 60, "°C");
                problems.Range("ecMicrosiemensPerCm", said.EcMicrosiemensPerCm, 0, 50_000, "µS/cm");
                problems.Range("pH", said.PH, 0, 14, "");
                break;
            case VesselSet said:
                problems.Text("vessel", said.Vessel.Name, 200);
                problems.Range("litres", said.Vessel.Litres, double.Epsilon, MostLitres, "L");
                break;
            case CanSaved said:
                problems.Range("litres", said.Card.Litres, double.Epsilon, MostLitres, "L");
                problems.Range("steps", said.Card.Steps.Count, 1, 200, "steps");
                break;
            case CanRead said:
                problems.Range("ecMicrosiemensPerCm", said.EcMicrosiemensPerCm, 0, 50_000, "µS/cm");
                problems.Range("pH", said.PH, 0, 14, "");
                problems.Range("temperatureCelsius", said.TemperatureCelsius, -20, 60, "°C");
                break;
            case CanPoured said:
                problems.Range("litresLeft", said.LitresLeft, 0, MostLitres, "L");
                problems.Range("millilitres", said.Poured.Select(poured => (double?)poured.Millilitres).DefaultIfEmpty().Max(), 0, MostLitres * 1000, "mL");
                break;
        }
    }
}
