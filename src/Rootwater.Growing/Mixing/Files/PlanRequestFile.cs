using System.Globalization;
using System.Text.Json;
using Rootwater.Chemistry.Quantities;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing.Files;

/// <summary>Reads the request file of <c>rootwater can plan</c>; docs/can-plan.md describes it.</summary>
public static class PlanRequestFile
{
    /// <summary>Reads a request.</summary>
    /// <param name="json">The file's text, in invariant culture: decimal points, µS/cm, mg/L.</param>
    /// <exception cref="PlanRequestException">It cannot be read, or something in it cannot be planned with; each problem names its field.</exception>
    public static PlanRequest Read(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        RequestDto dto;
        try
        {
            dto = JsonSerializer.Deserialize(json, RequestJson.Default.RequestDto) ?? throw new PlanRequestException([new("file", "null", "a JSON object with groups, waters, cupboard and vessels")]);
        }
        catch (JsonException problem)
        {
            throw new PlanRequestException([new(FieldOf(problem), null, MessageOf(problem))]);
        }

        var found = new List<PlanRequestProblem>();
        var request = Build(dto, found);
        if (found.Count == 0)
        {
            found.AddRange(PlanRequestCheck.Problems(request));
        }

        return found.Count == 0 ? request : throw new PlanRequestException(found);
    }

    private static string FieldOf(JsonException problem)
    {
        var path = (problem.Path ?? "$").TrimStart('$').TrimStart('.');
        return path.Length == 0 ? string.Create(CultureInfo.InvariantCulture, $"line {problem.LineNumber + 1 ?? 1}") : path;
    }

    private static string MessageOf(JsonException problem)
    {
        var cut = problem.Message.IndexOf(" Path:", StringComparison.Ordinal);
        var text = cut > 0 ? problem.Message[..cut] : problem.Message;
        if (text.Contains("could not be mapped", StringComparison.Ordinal))
        {
            return "no such field; docs/can-plan.md lists them";
        }

        return text.Contains("could not be converted", StringComparison.Ordinal)
            ? "a value of another kind is wanted here; docs/can-plan.md says which"
            : "the file is not JSON as it should be: " + text;
    }

    private static PlanRequest Build(RequestDto dto, List<PlanRequestProblem> found)
    {
        var defaults = Defaults;
        var number = 1;
        return new PlanRequest
        {
            Groups = [.. (dto.Groups ?? []).Select((group, i) => Group(group, $"groups[{i}]", ref number, found)).OfType<WantGroup>()],
            Waters = [.. (dto.Waters ?? []).Select((water, i) => Water(water, $"waters[{i}]", found)).OfType<WaterSource>()],
            Cupboard = [.. (dto.Cupboard ?? []).Select((product, i) => ProductFile.Read(product, $"cupboard[{i}]", found)).OfType<SupplyItem>()],
            Vessels = [.. (dto.Vessels ?? []).Select((vessel, i) => Vessel(vessel, $"vessels[{i}]", found)).OfType<Vessel>()],
            Leftovers = [.. (dto.Leftovers ?? []).Select((leftover, i) => Leftover(leftover, $"leftovers[{i}]", found)).OfType<Leftover>()],
            MostCans = dto.MostCans ?? defaults.MostCans,
            Tools = dto.Tools?.Over(defaults.Tools) ?? defaults.Tools,
            CanTemperature = dto.CanTemperatureCelsius is { } celsius ? Temperature.FromCelsius(celsius) : defaults.CanTemperature,
            CarbonDioxideExchangePerHour = dto.CarbonDioxideExchangePerHour ?? defaults.CarbonDioxideExchangePerHour,
            Log10AirPCO2 = dto.Log10AirPCO2 ?? defaults.Log10AirPCO2,
            TimeLimit = dto.TimeLimitSeconds is { } seconds ? Seconds(seconds, found) : defaults.TimeLimit,
        };
    }

    private static PlanRequest Defaults { get; } = new() { Groups = [], Waters = [], Cupboard = [], Vessels = [] };

    private static TimeSpan Seconds(double seconds, List<PlanRequestProblem> found)
    {
        if (seconds is >= 0.01 and <= 600)
        {
            return TimeSpan.FromSeconds(seconds);
        }

        found.Add(new("timeLimitSeconds", seconds.ToString(CultureInfo.InvariantCulture), "0.01 to 600 seconds"));
        return TimeSpan.FromSeconds(1);
    }

    private static WantGroup? Group(GroupDto dto, string at, ref int number, List<PlanRequestProblem> found)
    {
        var before = found.Count;
        var name = Required(dto.Name, $"{at}.name", "a name for the group", found);
        var want = WantOf(dto.Want, $"{at}.want", found);
        var portions = new List<Portion>();
        if (dto.Portions is { } listed)
        {
            for (var i = 0; i < listed.Count; i++)
            {
                var each = listed[i];
                var millilitres = RequiredNumber(each.Millilitres, $"{at}.portions[{i}].millilitres", "millilitres for this plant", found);
                portions.Add(Portion(each.PlantId, each.Number ?? number, each.PlantName, each.Place, millilitres, number));
                number++;
            }
        }
        else if (dto.Plants is { } plants && dto.MillilitresEach is { } millilitres)
        {
            if (plants is < 1 or > 10_000)
            {
                found.Add(new($"{at}.plants", plants.ToString(CultureInfo.InvariantCulture), "1 to 10,000 plants"));
                return null;
            }

            for (var i = 0; i < plants; i++)
            {
                portions.Add(Portion(null, number, null, null, millilitres, number));
                number++;
            }
        }
        else
        {
            found.Add(new($"{at}.portions", null, "portions, or plants with millilitresEach"));
        }

        return found.Count > before ? null : new WantGroup { Name = name, Want = want!, PourPH = dto.PourPH ?? new Band(5.5, 5.8, 6.2), Portions = portions };
    }

    private static Portion Portion(Guid? id, int number, string? name, string? place, double millilitres, int walk) => new()
    {
        PlantId = id ?? Guid.CreateVersion7(),
        Number = number,
        PlantName = name ?? string.Create(CultureInfo.InvariantCulture, $"plant {number}"),
        Place = place ?? "",
        Millilitres = millilitres,
        WalkOrder = walk,
    };

    private static Want? WantOf(WantDto? dto, string at, List<PlanRequestProblem> found)
    {
        if (dto is null)
        {
            found.Add(new(at, null, "a want: kind and state, or bands"));
            return null;
        }

        Want? basis = null;
        if (dto.Kind is not null || dto.State is not null)
        {
            basis = DefaultWants.Find(dto.Kind ?? DefaultWants.AnyKind, dto.State ?? "leafGrowth");
            if (basis is null)
            {
                found.Add(new($"{at}.state", dto.State, "one of " + string.Join(", ", DefaultWants.All.Select(want => want.State).Distinct())));
                return null;
            }
        }

        var before = found.Count;
        var nitrogen = dto.TotalNitrogenMgPerLitre ?? basis?.TotalNitrogenMgPerLitre ?? Missing("totalNitrogenMgPerLitre");
        var ec = dto.EcMicrosiemensPerCm ?? basis?.EcMicrosiemensPerCm ?? Missing("ecMicrosiemensPerCm");
        var root = dto.RootPH ?? basis?.RootPH ?? new Band(5.5, 6.0, 6.5);
        return found.Count > before ? null : new Want
        {
            Name = dto.Name ?? basis?.Name ?? "as given",
            FeedMgPerLitre = dto.FeedMgPerLitre ?? basis?.FeedMgPerLitre ?? new Dictionary<Nutrient, Band>(),
            TotalNitrogenMgPerLitre = nitrogen,
            EcMicrosiemensPerCm = ec,
            RootPH = root,
            Limits = dto.Limits?.Over(basis?.Limits ?? new HardLimits()) ?? basis?.Limits ?? new HardLimits(),
            Source = dto.Source ?? basis?.Source ?? "the grower's own",
        };

        Band Missing(string field)
        {
            found.Add(new($"{at}.{field}", null, "a band {low, ideal, high}, or a default want by kind and state"));
            return default;
        }
    }

    private static WaterSource? Water(WaterDto dto, string at, List<PlanRequestProblem> found)
    {
        var before = found.Count;
        var name = Required(dto.Name, $"{at}.name", "a name for the water", found);
        var totals = WaterFile.Totals(dto, at, found);
        return found.Count > before ? null : new WaterSource
        {
            Id = dto.Id ?? Guid.CreateVersion7(),
            Name = name,
            MolPerKgWater = totals!,
            RelativeUncertainty = dto.RelativeUncertainty ?? 0.03,
            AvailableLitres = dto.AvailableLitres,
            PricePerLitre = dto.PricePerLitre ?? 0,
        };
    }

    private static Vessel? Vessel(VesselDto dto, string at, List<PlanRequestProblem> found)
    {
        var before = found.Count;
        var name = Required(dto.Name, $"{at}.name", "a name for the can", found);
        var litres = RequiredNumber(dto.Litres, $"{at}.litres", "litres the can holds", found);
        return found.Count > before ? null : new Vessel(name, litres, dto.RelativeVolumeError ?? 0.01);
    }

    private static Leftover? Leftover(LeftoverDto dto, string at, List<PlanRequestProblem> found)
    {
        var before = found.Count;
        var name = Required(dto.Name, $"{at}.name", "a name for the older can", found);
        var litres = RequiredNumber(dto.Litres, $"{at}.litres", "litres left in it", found);
        var totals = ComponentFile.Read(dto.MmolPerKg, 1e-3, $"{at}.mmolPerKg", found);
        return found.Count > before ? null : new Leftover(dto.CanId ?? Guid.CreateVersion7(), name, litres, totals!, dto.AgeDays ?? 0) { BiuretMgPerLitre = dto.BiuretMgPerLitre ?? 0 };
    }

    internal static string Required(string? text, string field, string accepted, List<PlanRequestProblem> found)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            found.Add(new(field, text, accepted));
        }

        return text ?? "";
    }

    internal static double RequiredNumber(double? number, string field, string accepted, List<PlanRequestProblem> found)
    {
        if (number is null)
        {
            found.Add(new(field, null, accepted));
        }

        return number ?? 0;
    }
}
