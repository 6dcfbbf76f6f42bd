using System.Text.Json;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing.Files;

/// <summary>Reads a can back from what <see cref="PlanJson"/> wrote: as much of its card as a check and a repair need.</summary>
public static class CanFile
{
    /// <summary>Reads one can of a plan.</summary>
    /// <param name="json">What <c>can plan --json</c> wrote.</param>
    /// <param name="letter">Which; the only one when null.</param>
    /// <exception cref="PlanRequestException">It is no plan, or has no such can.</exception>
    public static CanPlan Read(string json, string? letter = null)
    {
        try
        {
            using var document = JsonDocument.Parse(json);
            var plan = document.RootElement.GetProperty("plan");
            if (plan.ValueKind == JsonValueKind.Null)
            {
                throw Refused("plan", "null", "a plan with cans in it");
            }

            var cans = plan.GetProperty("cans").EnumerateArray().ToList();
            var letters = string.Join(", ", cans.Select(can => can.GetProperty("letter").GetString()));
            var chosen = cans.Where(can => letter is null || can.GetProperty("letter").GetString() == letter).ToList();
            return chosen.Count == 1 ? Can(chosen[0]) : throw Refused("can", letter, $"one of {letters}");
        }
        catch (Exception problem) when (problem is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw Refused("plan file", null, "what rootwater can plan --json wrote: " + problem.Message);
        }
    }

    private static PlanRequestException Refused(string field, string? value, string accepted) => new([new(field, value, accepted)]);

    private static CanPlan Can(JsonElement can)
    {
        var totals = ComponentAmounts.Zero;
        foreach (var amount in can.GetProperty("mmolPerKgWater").EnumerateObject())
        {
            totals = totals.With(Enum.Parse<Component>(amount.Name, ignoreCase: true), amount.Value.GetDouble() / 1000);
        }

        return new CanPlan
        {
            Id = can.GetProperty("id").GetGuid(),
            Letter = Text(can, "letter"),
            Vessel = Text(can, "vessel"),
            Litres = Number(can, "litres"),
            TemperatureCelsius = Number(can, "temperatureCelsius"),
            Steps = [.. can.GetProperty("steps").EnumerateArray().Select(Step)],
            MolPerKgWater = totals,
            MgPerLitre = NutrientAmounts.From(can.GetProperty("mgPerLitre").EnumerateObject().Select(each => (Enum.Parse<Nutrient>(each.Name, ignoreCase: true), each.Value.GetDouble()))),
            EcMicrosiemensPerCm = Expected(can, "ecMicrosiemensPerCm"),
            EcOnPenMicrosiemensPerCm = Number(can, "ecOnPenMicrosiemensPerCm"),
            PH = Expected(can, "pH"),
            PHAfterADay = Number(can, "pHAfterADay"),
            PHInBalanceWithAir = Number(can, "pHInBalanceWithAir"),
            AlkalinityMilliequivalentsPerLitre = Number(can, "alkalinityMilliequivalentsPerLitre"),
            // Cards written before it was counted do not have it.
            BiuretMgPerLitre = can.TryGetProperty("biuretMgPerLitre", out _) ? Number(can, "biuretMgPerLitre") : 0,
            ClosestMineral = can.GetProperty("closestMineral").GetString(),
            WorstSaturationIndex = can.GetProperty("worstSaturationIndex").ValueKind == JsonValueKind.Null ? null : Number(can, "worstSaturationIndex"),
            Serves = [.. can.GetProperty("serves").EnumerateArray().Select(served => new ServedGroup(Text(served, "group"), [], [.. served.GetProperty("bands").EnumerateArray().Select(Band)]))],
            Cost = can.GetProperty("cost").GetDecimal(),
            Limits = Limits(can.GetProperty("limits")),
        };
    }

    private static MixStep Step(JsonElement step) => new()
    {
        Number = step.GetProperty("number").GetInt32(),
        Kind = Enum.Parse<MixStepKind>(Text(step, "kind"), ignoreCase: true),
        What = Text(step, "what"),
        Amount = Number(step, "amount"),
        Unit = Text(step, "unit"),
        Reason = Text(step, "reason"),
        EcMicrosiemensPerCm = Expected(step, "ecMicrosiemensPerCm"),
        PH = Expected(step, "pH"),
        ClosestMineral = null,
        WorstSaturationIndex = null,
    };

    private static BandResult Band(JsonElement band) => new(
        Text(band, "what"), Text(band, "unit"), new Band(Number(band, "low"), Number(band, "ideal"), Number(band, "high")), Number(band, "value"), Number(band, "errorLow"), Number(band, "errorHigh"));

    private static HardLimits Limits(JsonElement limits) => new()
    {
        SodiumMgPerLitre = Number(limits, "sodiumMgPerLitre"),
        ChlorideMgPerLitre = Number(limits, "chlorideMgPerLitre"),
        BoronMgPerLitre = Number(limits, "boronMgPerLitre"),
        ZincMgPerLitre = Number(limits, "zincMgPerLitre"),
        CopperMgPerLitre = Number(limits, "copperMgPerLitre"),
        ManganeseMgPerLitre = Number(limits, "manganeseMgPerLitre"),
        IronMgPerLitre = Number(limits, "ironMgPerLitre"),
        MolybdenumMgPerLitre = Number(limits, "molybdenumMgPerLitre"),
        AmmoniumShareOfNitrogen = Number(limits, "ammoniumShareOfNitrogen"),
        UreaShareOfNitrogen = Number(limits, "ureaShareOfNitrogen"),
        EcMicrosiemensPerCm = Number(limits, "ecMicrosiemensPerCm"),
    };

    private static Expected Expected(JsonElement from, string name) =>
        new(Number(from.GetProperty(name), "low"), Number(from.GetProperty(name), "value"), Number(from.GetProperty(name), "high"));

    private static double Number(JsonElement from, string name) => from.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.NaN;

    private static string Text(JsonElement from, string name) => from.GetProperty(name).GetString() ?? "";
}
