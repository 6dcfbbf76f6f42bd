namespace Rootwater.Growing.Waters;

/// <summary>What the rain ran over before it reached the barrel.</summary>
public enum Roof
{
    /// <summary>Tiles, slate, glass, plastic, plants: nothing worth counting comes off.</summary>
    Inert,

    /// <summary>Zinc sheet, galvanised gutters or tanks.</summary>
    Zinc,
    Copper,
}

/// <summary>Rain where nobody has measured it: typical contents with wide bands (data/growing/rain-waters.csv).</summary>
public static class RainWater
{
    /// <summary>Rain off a roof.</summary>
    /// <param name="name">What the grower calls it.</param>
    /// <param name="roof">What it ran over.</param>
    /// <param name="id">Of the source; a new one when null.</param>
    public static CompletedWater From(string name, Roof roof, Guid? id = null)
    {
        var rows = EmbeddedTable.Read("rain-waters.csv").Where(row => row["roof"] == "any" || row["roof"].Equals(roof.ToString(), StringComparison.OrdinalIgnoreCase)).ToList();
        var report = new WaterReport
        {
            Name = name,
            Origin = WaterOrigin.Rain,
            Readings = [.. rows.Select(row => new WaterReading(QuantityOf(row), row.Number("typical_mg_per_l"), WaterUnit.MgPerLitre))],
        };
        var completed = WaterCompleter.Complete(report, id);
        if (completed.Source is null)
        {
            return completed;
        }

        // The bands are the table's, not those of a laboratory.
        var values = completed.Values.Select(value => rows.FirstOrDefault(row => QuantityOf(row) == value.Quantity) is { } row
            ? value with { Low = Mmol(row, "low_mg_per_l"), High = Mmol(row, "high_mg_per_l"), Origin = WaterValueOrigin.Estimated }
            : value with { Origin = WaterValueOrigin.Estimated }).ToList();
        var note = InputProblem.Note("rain", null, roof == Roof.Inert
            ? "Typical rain, not measured. It holds so little that its error hardly matters in a can."
            : $"Typical rain off {roof.ToString().ToLowerInvariant()}, not measured: its {roof.ToString().ToLowerInvariant()} may be a third or three times this. Have it tested before using it undiluted.");
        return completed with
        {
            Values = values,
            Problems = [note, .. completed.Problems],
            Source = completed.Source with { RelativeUncertainty = 0.5, Doubts = [], Notes = [note.Message, .. completed.Source.Notes] },
        };
    }

    private static WaterQuantity QuantityOf(EmbeddedTable.Row row) => Enum.Parse<WaterQuantity>(row["quantity"]);

    private static double Mmol(EmbeddedTable.Row row, string column) => row.Number(column) / WaterIon.Find(QuantityOf(row))!.IonGramsPerMole;
}
