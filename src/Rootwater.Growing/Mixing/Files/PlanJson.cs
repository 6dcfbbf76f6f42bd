using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Rootwater.Growing.Mixing.Files;

/// <summary>Writes what the planner found as JSON; docs/plan-schema.json is its schema. Numbers that are not known are null.</summary>
public static class PlanJson
{
    public static string Write(PlanOutcome outcome)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteNumber("version", 1);
            json.WritePropertyName("plan");
            if (outcome.Plan is { } plan)
            {
                Write(json, plan);
            }
            else
            {
                json.WriteNullValue();
            }

            Array(json, "unmet", outcome.Unmet, Write);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static void Write(Utf8JsonWriter json, Plan plan)
    {
        json.WriteStartObject();
        Number(json, "relativeGap", plan.RelativeGap);
        Number(json, "tookMilliseconds", Math.Round(plan.Took.TotalMilliseconds, 1));
        json.WriteNumber("cost", plan.Cost);
        Array(json, "cans", plan.Cans, Write);
        Array(json, "concentrates", plan.Concentrates, Write);
        json.WriteStartObject("gramsLeftAfter");
        foreach (var (id, grams) in plan.GramsLeftAfter)
        {
            Number(json, id.ToString(), grams);
        }

        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, CanPlan can)
    {
        json.WriteStartObject();
        json.WriteString("id", can.Id);
        json.WriteString("letter", can.Letter);
        json.WriteString("vessel", can.Vessel);
        Number(json, "litres", can.Litres);
        Number(json, "temperatureCelsius", can.TemperatureCelsius);
        Array(json, "steps", can.Steps, Write);
        Expected(json, "ecMicrosiemensPerCm", can.EcMicrosiemensPerCm);
        Number(json, "ecOnPenMicrosiemensPerCm", can.EcOnPenMicrosiemensPerCm);
        Expected(json, "pH", can.PH);
        Number(json, "pHAfterADay", can.PHAfterADay);
        Number(json, "pHInBalanceWithAir", can.PHInBalanceWithAir);
        Number(json, "alkalinityMilliequivalentsPerLitre", can.AlkalinityMilliequivalentsPerLitre);
        Number(json, "biuretMgPerLitre", can.BiuretMgPerLitre);
        json.WriteString("closestMineral", can.ClosestMineral);
        Number(json, "worstSaturationIndex", can.WorstSaturationIndex);
        json.WriteNumber("cost", can.Cost);
        json.WriteStartObject("mgPerLitre");
        foreach (var nutrient in Enum.GetValues<Nutrient>())
        {
            Number(json, PlanRequestCheck.Camel(nutrient.ToString()), can.MgPerLitre[nutrient]);
        }

        json.WriteEndObject();
        json.WriteStartObject("mmolPerKgWater");
        foreach (var component in can.MolPerKgWater.Present())
        {
            Number(json, PlanRequestCheck.Camel(component.ToString()), can.MolPerKgWater[component] * 1000, 9);
        }

        json.WriteEndObject();
        Array(json, "serves", can.Serves, Write);
        json.WriteStartObject("limits");
        Number(json, "sodiumMgPerLitre", can.Limits.SodiumMgPerLitre);
        Number(json, "chlorideMgPerLitre", can.Limits.ChlorideMgPerLitre);
        Number(json, "boronMgPerLitre", can.Limits.BoronMgPerLitre);
        Number(json, "zincMgPerLitre", can.Limits.ZincMgPerLitre);
        Number(json, "copperMgPerLitre", can.Limits.CopperMgPerLitre);
        Number(json, "manganeseMgPerLitre", can.Limits.ManganeseMgPerLitre);
        Number(json, "ironMgPerLitre", can.Limits.IronMgPerLitre);
        Number(json, "molybdenumMgPerLitre", can.Limits.MolybdenumMgPerLitre);
        Number(json, "ammoniumShareOfNitrogen", can.Limits.AmmoniumShareOfNitrogen);
        Number(json, "ureaShareOfNitrogen", can.Limits.UreaShareOfNitrogen);
        Number(json, "ecMicrosiemensPerCm", can.Limits.EcMicrosiemensPerCm);
        json.WriteEndObject();
        if (can.AgeLimit is { } age)
        {
            json.WriteStartObject("ageLimit");
            Number(json, "days", age.Days);
            json.WriteString("why", age.Why);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("ageLimit");
        }

        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, MixStep step)
    {
        json.WriteStartObject();
        json.WriteNumber("number", step.Number);
        json.WriteString("kind", PlanRequestCheck.Camel(step.Kind.ToString()));
        json.WriteString("what", step.What);
        Id(json, "productId", step.ProductId);
        Id(json, "lotId", step.LotId);
        Id(json, "waterId", step.WaterId);
        Number(json, "amount", step.Amount);
        json.WriteString("unit", step.Unit);
        json.WriteString("reason", step.Reason);
        Strings(json, "cautions", step.Cautions);
        Expected(json, "ecMicrosiemensPerCm", step.EcMicrosiemensPerCm);
        Expected(json, "pH", step.PH);
        json.WriteString("closestMineral", step.ClosestMineral);
        Number(json, "worstSaturationIndex", step.WorstSaturationIndex);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, ServedGroup served)
    {
        json.WriteStartObject();
        json.WriteString("group", served.Group);
        Array(json, "portions", served.Portions, (writer, portion) =>
        {
            writer.WriteStartObject();
            writer.WriteString("plantId", portion.PlantId);
            writer.WriteNumber("number", portion.Number);
            writer.WriteString("plantName", portion.PlantName);
            writer.WriteString("place", portion.Place);
            Number(writer, "millilitres", portion.Millilitres);
            writer.WriteEndObject();
        });
        Array(json, "bands", served.Bands, (writer, band) =>
        {
            writer.WriteStartObject();
            writer.WriteString("what", band.What);
            writer.WriteString("unit", band.Unit);
            Number(writer, "low", band.Band.Low);
            Number(writer, "ideal", band.Band.Ideal);
            Number(writer, "high", band.Band.High);
            Number(writer, "value", band.Value);
            Number(writer, "errorLow", band.ErrorLow);
            Number(writer, "errorHigh", band.ErrorHigh);
            writer.WriteBoolean("met", band.Met);
            writer.WriteEndObject();
        });
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, ConcentrateRecipe recipe)
    {
        json.WriteStartObject();
        json.WriteString("name", recipe.Name);
        Number(json, "litres", recipe.Litres);
        Array(json, "weigh", recipe.Weigh, (writer, each) =>
        {
            writer.WriteStartObject();
            writer.WriteString("productId", each.ProductId);
            writer.WriteString("productName", each.ProductName);
            Number(writer, "grams", each.Grams);
            writer.WriteEndObject();
        });
        Number(json, "worstSaturationIndex", recipe.WorstSaturationIndex);
        json.WriteString("reason", recipe.Reason);
        Strings(json, "cautions", recipe.Cautions);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, UnmetWant unmet)
    {
        json.WriteStartObject();
        json.WriteString("group", unmet.Group);
        json.WriteString("what", unmet.What);
        Number(json, "reached", unmet.Reached);
        Number(json, "low", unmet.Low);
        Number(json, "high", unmet.High);
        json.WriteString("unit", unmet.Unit);
        json.WriteString("wayOut", unmet.WayOut);
        json.WriteEndObject();
    }

    private static void Array<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<Utf8JsonWriter, T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            write(json, item);
        }

        json.WriteEndArray();
    }

    private static void Strings(Utf8JsonWriter json, string name, IEnumerable<string> items) => Array(json, name, items, (writer, item) => writer.WriteStringValue(item));

    private static void Expected(Utf8JsonWriter json, string name, Expected expected)
    {
        json.WriteStartObject(name);
        Number(json, "low", expected.Low);
        Number(json, "value", expected.Value);
        Number(json, "high", expected.High);
        json.WriteEndObject();
    }

    private static void Id(Utf8JsonWriter json, string name, Guid? id)
    {
        if (id is { } known)
        {
            json.WriteString(name, known);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    // Six decimals: finer than anything weighed, and no noise of binary fractions.
    private static void Number(Utf8JsonWriter json, string name, double? value, int decimals = 6)
    {
        if (value is { } number && double.IsFinite(number))
        {
            json.WriteNumber(name, Math.Round(number, decimals));
        }
        else
        {
            json.WriteNull(name);
        }
    }
}
