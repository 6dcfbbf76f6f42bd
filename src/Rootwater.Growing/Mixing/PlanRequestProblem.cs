using System.Globalization;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>One thing in a request that cannot be planned with.</summary>
/// <param name="Field">Where, as a path: "cupboard[2].gramsLeft".</param>
/// <param name="Value">What stands there; null where nothing does.</param>
/// <param name="Accepted">What would be accepted.</param>
public sealed record PlanRequestProblem(string Field, string? Value, string Accepted)
{
    public override string ToString() => Value is null ? $"{Field}: {Accepted}" : $"{Field} is {Value}: {Accepted}";
}

/// <summary>A request that cannot be planned; the message has one line per problem.</summary>
public sealed class PlanRequestException(IReadOnlyList<PlanRequestProblem> problems) : ArgumentException(string.Join(Environment.NewLine, problems))
{
    public IReadOnlyList<PlanRequestProblem> Problems { get; } = problems;
}

/// <summary>Looks a request over before any chemistry is done.</summary>
public static class PlanRequestCheck
{
    private const double MostLitres = 10_000;
    private const double MostGrams = 1_000_000;
    private const double MostMolPerKgWater = 0.2;
    private const double MostMolPerKgProduct = 120;

    /// <summary>Every problem in the request, in the order of its fields; empty when it can be planned.</summary>
    public static IReadOnlyList<PlanRequestProblem> Problems(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var found = new Findings();
        Groups(request, found);
        Waters(request, found);
        Cupboard(request, found);
        Vessels(request, found);
        Leftovers(request, found);
        Means(request, found);
        return found.Problems;
    }

    private static void Groups(PlanRequest request, Findings found)
    {
        if (request.Groups.Count == 0)
        {
            found.Add("groups", null, "at least one group of plants to feed");
        }

        for (var i = 0; i < request.Groups.Count; i++)
        {
            var (group, at) = (request.Groups[i], $"groups[{i}]");
            if (request.Groups.Take(i).Any(other => other.Name == group.Name))
            {
                found.Add($"{at}.name", group.Name, "a name that no other group has");
            }

            if (group.Portions.Count == 0)
            {
                found.Add($"{at}.portions", null, "at least one plant");
            }

            for (var k = 0; k < group.Portions.Count; k++)
            {
                found.Range($"{at}.portions[{k}].millilitres", group.Portions[k].Millilitres, 0, 100_000, "millilitres above 0 and up to 100,000", openLow: true);
            }

            found.Band($"{at}.pourPH", group.PourPH, 3, 9);
            found.Band($"{at}.want.totalNitrogenMgPerLitre", group.Want.TotalNitrogenMgPerLitre, 0, 5000);
            found.Band($"{at}.want.ecMicrosiemensPerCm", group.Want.EcMicrosiemensPerCm, 0, 20_000);
            found.Band($"{at}.want.rootPH", group.Want.RootPH, 3, 9);
            foreach (var (nutrient, band) in group.Want.FeedMgPerLitre)
            {
                found.Band($"{at}.want.feedMgPerLitre.{Camel(nutrient.ToString())}", band, 0, 5000);
            }

            Limits(group.Want.Limits, $"{at}.want.limits", found);
        }
    }

    private static void Limits(HardLimits limits, string at, Findings found)
    {
        found.Range($"{at}.sodiumMgPerLitre", limits.SodiumMgPerLitre, 0, 5000, "0 to 5000 mg/L");
        found.Range($"{at}.chlorideMgPerLitre", limits.ChlorideMgPerLitre, 0, 5000, "0 to 5000 mg/L");
        found.Range($"{at}.boronMgPerLitre", limits.BoronMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.zincMgPerLitre", limits.ZincMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.copperMgPerLitre", limits.CopperMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.manganeseMgPerLitre", limits.ManganeseMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.ironMgPerLitre", limits.IronMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.molybdenumMgPerLitre", limits.MolybdenumMgPerLitre, 0, 100, "0 to 100 mg/L");
        found.Range($"{at}.ammoniumShareOfNitrogen", limits.AmmoniumShareOfNitrogen, 0, 1, "a share from 0 to 1");
        found.Range($"{at}.ureaShareOfNitrogen", limits.UreaShareOfNitrogen, 0, 1, "a share from 0 to 1");
        found.Range($"{at}.ecMicrosiemensPerCm", limits.EcMicrosiemensPerCm, 0, 20_000, "µS/cm above 0 and up to 20,000", openLow: true);
    }

    private static void Waters(PlanRequest request, Findings found)
    {
        if (request.Waters.Count == 0)
        {
            found.Add("waters", null, "at least one water to mix with");
        }

        for (var i = 0; i < request.Waters.Count; i++)
        {
            var (water, at) = (request.Waters[i], $"waters[{i}]");
            Amounts(water.MolPerKgWater, $"{at}.molPerKgWater", MostMolPerKgWater, "mol/kg", found);
            found.Range($"{at}.relativeUncertainty", water.RelativeUncertainty, 0, 1, "a share from 0 to 1");
            found.Range($"{at}.availableLitres", water.AvailableLitres, 0, MostLitres, "litres from 0 to 10,000, or left out for as much as one likes");
            found.Range($"{at}.pricePerLitre", (double)water.PricePerLitre, 0, 1000, "a price from 0 to 1000");
        }
    }

    private static void Cupboard(PlanRequest request, Findings found)
    {
        if (request.Cupboard.Count == 0)
        {
            found.Add("cupboard", null, "at least one product; the cupboard is empty");
        }

        for (var i = 0; i < request.Cupboard.Count; i++)
        {
            var (product, at) = (request.Cupboard[i].Product, $"cupboard[{i}]");
            Amounts(product.MolPerKg, $"{at}.product.molPerKg", MostMolPerKgProduct, "mol/kg", found);
            found.Range($"{at}.product.densityKgPerLitre", product.DensityKgPerLitre, 0.5, 3, "kg per litre from 0.5 to 3, or left out for a solid");
            found.Range($"{at}.product.relativeUncertainty", product.RelativeUncertainty, 0, 1, "a share from 0 to 1");
            found.Range($"{at}.product.pHUncertainty", product.PHUncertainty, 0, 5, "0 to 5 pH units");
            found.Range($"{at}.product.pricePerKg", (double?)product.PricePerKg, 0, 1_000_000, "a price from 0 to 1,000,000");
            found.Range($"{at}.product.solubilityGramsPerLitre", product.SolubilityGramsPerLitre, 0, 10_000, "g/L above 0 and up to 10,000", openLow: true);
            foreach (var (lot, k) in request.Cupboard[i].Lots.Select((lot, k) => (lot, k)))
            {
                found.Range($"{at}.lots[{k}].gramsLeft", lot.GramsLeft, 0, MostGrams, "grams from 0 to 1,000,000");
            }
        }
    }

    private static void Vessels(PlanRequest request, Findings found)
    {
        if (request.Vessels.Count == 0)
        {
            found.Add("vessels", null, "at least one can to mix in");
        }

        for (var i = 0; i < request.Vessels.Count; i++)
        {
            found.Range($"vessels[{i}].litres", request.Vessels[i].Litres, 0, MostLitres, "litres above 0 and up to 10,000", openLow: true);
            found.Range($"vessels[{i}].relativeVolumeError", request.Vessels[i].RelativeVolumeError, 0, 0.5, "a share from 0 to 0.5");
        }
    }

    private static void Leftovers(PlanRequest request, Findings found)
    {
        for (var i = 0; i < request.Leftovers.Count; i++)
        {
            found.Range($"leftovers[{i}].litres", request.Leftovers[i].Litres, 0, MostLitres, "litres from 0 to 10,000");
            found.Range($"leftovers[{i}].ageDays", request.Leftovers[i].AgeDays, 0, 3650, "days from 0 to 3650");
            found.Range($"leftovers[{i}].biuretMgPerLitre", request.Leftovers[i].BiuretMgPerLitre, 0, 1000, "milligrams per litre from 0 to 1,000");
            var totals = request.Leftovers[i].MolPerKgWater;
            Amounts(totals, $"leftovers[{i}].molPerKgWater", MostMolPerKgWater, "mol/kg", found);
            if (CardWriter.HoldsOrganicAcid(totals) && request.Leftovers[i].AgeDays > CardWriter.OrganicAcidDays)
            {
                found.Add($"leftovers[{i}].ageDays", Text(request.Leftovers[i].AgeDays), Text(CardWriter.OrganicAcidDays) + " days at most: it holds citric or acetic acid, which microbes eat, and its pH is not what it was");
            }
        }
    }

    private static void Means(PlanRequest request, Findings found)
    {
        found.Range("mostCans", request.MostCans, 1, 6, "1 to 6 cans");
        var tools = request.Tools;
        found.Range("tools.scaleStepGrams", tools.ScaleStepGrams, 0.0001, 100, "0.0001 to 100 g");
        found.Range("tools.scaleErrorGrams", tools.ScaleErrorGrams, 0, 100, "0 to 100 g");
        found.Range("tools.syringeStepMillilitres", tools.SyringeStepMillilitres, 0.001, 100, "0.001 to 100 mL");
        found.Range("tools.syringeErrorMillilitres", tools.SyringeErrorMillilitres, 0, 100, "0 to 100 mL");
        found.Range("tools.waterStepLitres", tools.WaterStepLitres, 0.001, 10, "0.001 to 10 L");
        found.Range("tools.ecPenRelativeError", tools.EcPenRelativeError, 0, 0.5, "a share from 0 to 0.5");
        found.Range("tools.pHPenError", tools.PHPenError, 0, 2, "0 to 2 pH units");
        found.Range("tools.ecPenCompensationPerCelsius", tools.EcPenCompensationPerCelsius, 0, 0.05, "0 to 0.05 per °C");
        found.Range("canTemperatureCelsius", request.CanTemperature.Celsius, 1, 40, "1 to 40 °C");
        found.Range("carbonDioxideExchangePerHour", request.CarbonDioxideExchangePerHour, 0, 100, "0 to 100 per hour");
        found.Range("log10AirPCO2", request.Log10AirPCO2, -8, 0.5, "-8 to 0.5 (outdoor air is -3.4)");
        found.Range("timeLimitSeconds", request.TimeLimit.TotalSeconds, 0.01, 600, "0.01 to 600 seconds");
    }

    private static void Amounts(ComponentAmounts amounts, string at, double most, string unit, Findings found)
    {
        for (var i = 0; i < ComponentAmounts.Count; i++)
        {
            var component = (Component)i;
            var amount = amounts[component];
            if (component == Component.Hydrogen ? Math.Abs(amount) > most : amount < 0 || amount > most)
            {
                found.Add($"{at}.{Camel(component.ToString())}", Text(amount), string.Create(CultureInfo.InvariantCulture, $"0 to {most:0.###} {unit}"));
            }
        }
    }

    internal static string Camel(string name) => char.ToLowerInvariant(name[0]) + name[1..];

    private static string Text(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private sealed class Findings
    {
        public List<PlanRequestProblem> Problems { get; } = [];

        public void Add(string field, string? value, string accepted) => Problems.Add(new PlanRequestProblem(field, value, accepted));

        public void Range(string field, double? value, double low, double high, string accepted, bool openLow = false)
        {
            if (value is { } number && (!double.IsFinite(number) || number < low || number > high || (openLow && number <= low)))
            {
                Add(field, Text(number), accepted);
            }
        }

        public void Band(string field, Band band, double low, double high)
        {
            var ordered = band.Low <= band.Ideal && band.Ideal <= band.High;
            if (!ordered || !double.IsFinite(band.Low) || !double.IsFinite(band.High) || band.Low < low || band.High > high)
            {
                Add(field, $"{Text(band.Low)} / {Text(band.Ideal)} / {Text(band.High)}", string.Create(CultureInfo.InvariantCulture, $"low ≤ ideal ≤ high within {low:0.##} to {high:0.##}"));
            }
        }
    }
}
