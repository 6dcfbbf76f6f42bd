using System.Globalization;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Waters;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads a report entry with what the growing floor knows of waters.</summary>
internal static class WaterReports
{
    public static WaterReportPreview Read(NewWaterReport report)
    {
        var problems = new List<InputProblem>();
        var readings = new List<WaterReading>();
        foreach (var value in report.Values)
        {
            if (!WaterWords.TryQuantity(value.What, out var quantity))
            {
                problems.Add(InputProblem.Error(value.What, Figure(value.Value), "It is not known what this is. Known are ions by symbol or name, alkalinity (KH), hardness (GH), pH and EC."));
            }
            else if (!WaterWords.TryUnit(value.Unit, quantity, out var unit, out var problem))
            {
                problems.Add(problem!);
            }
            else
            {
                readings.Add(new WaterReading(quantity, value.Value, unit));
            }
        }

        if (readings.All(reading => reading.Quantity != WaterQuantity.Temperature))
        {
            readings.Add(new WaterReading(WaterQuantity.Temperature, report.TemperatureCelsius, WaterUnit.Celsius));
        }

        // The water's own name is put on it wherever it is shown.
        var completed = problems.Count > 0 ? null : WaterCompleter.Complete(new WaterReport { Name = "water", Readings = readings, Origin = report.Origin }, report.WaterId);
        problems.AddRange(completed?.Problems ?? []);
        return new WaterReportPreview
        {
            Source = completed?.Source is { } source ? Rounded(source) : null,
            PH = completed?.Source is null ? null : Math.Round(completed.PH, 3),
            EcMicrosiemensPerCm = completed?.Source is null ? null : Math.Round(completed.EcMicrosiemensPerCm, 1),
            AlkalinityMeqPerLitre = completed?.Source is null ? null : Math.Round(completed.AlkalinityMeqPerLitre, 4),
            ChargeImbalancePercent = completed?.ChargeImbalancePercent is { } percent ? Math.Round(percent, 2) : null,
            Problems = [.. problems.Where(problem => problem.Severity == Severity.Error).Select(EntryProblems.Of)],
            Notes = [.. problems.Where(problem => problem.Severity != Severity.Error).Select(problem => problem.Message)],
        };
    }

    // To a millionth of a mmol: no laboratory knows more, and the last bits of an iterative solve need not be kept for ever. Hydrogen keeps the whole neutral.
    private static WaterSource Rounded(WaterSource source) => source with
    {
        MolPerKgWater = Rounded(source.MolPerKgWater),
        Doubts = [.. source.Doubts.Select(Rounded)],
        RelativeUncertainty = Math.Round(source.RelativeUncertainty, 4),
    };

    private static ComponentAmounts Rounded(ComponentAmounts exact)
    {
        var amounts = exact.AsSpan().ToArray();
        var charge = 0.0;
        for (var i = 0; i < amounts.Length; i++)
        {
            var component = (Component)i;
            if (component != Component.Hydrogen)
            {
                var rounded = Math.Round(amounts[i], 9);
                charge += ChargeOf(component) * (rounded - amounts[i]);
                amounts[i] = rounded;
            }
        }

        amounts[(int)Component.Hydrogen] -= charge;
        return ComponentAmounts.FromSpan(amounts);
    }

    private static int ChargeOf(Component component) => component switch
    {
        Component.Sodium or Component.Potassium or Component.Ammonium => 1,
        Component.Calcium or Component.Magnesium or Component.IronII or Component.Manganese or Component.Zinc or Component.Copper => 2,
        Component.Nitrate or Component.Chloride => -1,
        Component.Sulfate or Component.Carbonate => -2,
        Component.Phosphate => -3,
        Component.Borate or Component.Silicate => 0,
        _ => 0, // a water report states no others
    };

    private static string Figure(double value) => value.ToString(CultureInfo.InvariantCulture);
}
