using System.Text.Json.Serialization;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing.Files;

// The request file as it is written; docs/can-plan.md describes every field. Nothing outside this folder sees these.

internal sealed record RequestDto
{
    public List<GroupDto>? Groups { get; init; }
    public List<WaterDto>? Waters { get; init; }
    public List<ProductDto>? Cupboard { get; init; }
    public List<VesselDto>? Vessels { get; init; }
    public List<LeftoverDto>? Leftovers { get; init; }
    public int? MostCans { get; init; }
    public ToolsDto? Tools { get; init; }
    public double? CanTemperatureCelsius { get; init; }
    public double? CarbonDioxideExchangePerHour { get; init; }
    public double? Log10AirPCO2 { get; init; }
    public double? TimeLimitSeconds { get; init; }
}

internal sealed record GroupDto
{
    public string? Name { get; init; }
    public WantDto? Want { get; init; }
    public Band? PourPH { get; init; }
    public List<PortionDto>? Portions { get; init; }

    /// <summary>In place of portions: so many plants, each with so much.</summary>
    public int? Plants { get; init; }
    public double? MillilitresEach { get; init; }
}

internal sealed record WantDto
{
    public string? Name { get; init; }

    /// <summary>A default want by kind and state; what else is given replaces its parts.</summary>
    public string? Kind { get; init; }
    public string? State { get; init; }
    public Dictionary<Nutrient, Band>? FeedMgPerLitre { get; init; }
    public Band? TotalNitrogenMgPerLitre { get; init; }
    public Band? EcMicrosiemensPerCm { get; init; }
    public Band? RootPH { get; init; }
    public LimitsDto? Limits { get; init; }
    public string? Source { get; init; }
}

internal sealed record PortionDto
{
    public Guid? PlantId { get; init; }
    public int? Number { get; init; }
    public string? PlantName { get; init; }
    public string? Place { get; init; }
    public double? Millilitres { get; init; }
}

internal sealed record WaterDto
{
    public Guid? Id { get; init; }
    public string? Name { get; init; }

    /// <summary>Ions, mg/L: calcium, magnesium, sodium, potassium, ammonium, nitrate, chloride, sulfate; hydrogen carbonate closes the charge.</summary>
    public Dictionary<string, double>? MgPerLitre { get; init; }
    public double? PH { get; init; }

    /// <summary>Components, mmol/kg, in place of mgPerLitre.</summary>
    public Dictionary<string, double>? MmolPerKg { get; init; }
    public double? RelativeUncertainty { get; init; }
    public double? AvailableLitres { get; init; }
    public decimal? PricePerLitre { get; init; }
}

internal sealed record ProductDto
{
    public Guid? Id { get; init; }
    public string? Name { get; init; }
    public ProductKind? Kind { get; init; }

    /// <summary>A salt, acid or base by formula …</summary>
    public string? Formula { get; init; }

    /// <summary>… and how much of the product it is; 100 when left out.</summary>
    public double? PercentByWeight { get; init; }

    /// <summary>Or the label's text.</summary>
    public string? Label { get; init; }

    /// <summary>Or components, mol/kg.</summary>
    public Dictionary<string, double>? MolPerKg { get; init; }
    public double? DensityKgPerLitre { get; init; }

    /// <summary>What is left: grams, or millilitres of a liquid.</summary>
    public double? Grams { get; init; }
    public double? Millilitres { get; init; }
    public decimal? PricePerKg { get; init; }
    public double? RelativeUncertainty { get; init; }
    public double? PHUncertainty { get; init; }
    public double? SolubilityGramsPerLitre { get; init; }
    public DateOnly? BoughtOn { get; init; }
}

internal sealed record ToolsDto
{
    public double? ScaleStepGrams { get; init; }
    public double? ScaleErrorGrams { get; init; }
    public double? SyringeStepMillilitres { get; init; }
    public double? SyringeErrorMillilitres { get; init; }
    public double? WaterStepLitres { get; init; }
    public double? EcPenRelativeError { get; init; }
    public double? PHPenError { get; init; }
    public double? EcPenCompensationPerCelsius { get; init; }

    /// <summary>What is left out is as <paramref name="defaults"/> have it; an error left out is half its step.</summary>
    public Tools Over(Tools defaults) => new()
    {
        ScaleStepGrams = ScaleStepGrams ?? defaults.ScaleStepGrams,
        ScaleErrorGrams = ScaleErrorGrams ?? ScaleStepGrams / 2 ?? defaults.ScaleErrorGrams,
        SyringeStepMillilitres = SyringeStepMillilitres ?? defaults.SyringeStepMillilitres,
        SyringeErrorMillilitres = SyringeErrorMillilitres ?? SyringeStepMillilitres / 2 ?? defaults.SyringeErrorMillilitres,
        WaterStepLitres = WaterStepLitres ?? defaults.WaterStepLitres,
        EcPenRelativeError = EcPenRelativeError ?? defaults.EcPenRelativeError,
        PHPenError = PHPenError ?? defaults.PHPenError,
        EcPenCompensationPerCelsius = EcPenCompensationPerCelsius ?? defaults.EcPenCompensationPerCelsius,
    };
}

internal sealed record LimitsDto
{
    public double? SodiumMgPerLitre { get; init; }
    public double? ChlorideMgPerLitre { get; init; }
    public double? BoronMgPerLitre { get; init; }
    public double? ZincMgPerLitre { get; init; }
    public double? CopperMgPerLitre { get; init; }
    public double? ManganeseMgPerLitre { get; init; }
    public double? IronMgPerLitre { get; init; }
    public double? MolybdenumMgPerLitre { get; init; }
    public double? AmmoniumShareOfNitrogen { get; init; }
    public double? UreaShareOfNitrogen { get; init; }
    public double? EcMicrosiemensPerCm { get; init; }
    public string? Source { get; init; }

    public HardLimits Over(HardLimits defaults) => new()
    {
        SodiumMgPerLitre = SodiumMgPerLitre ?? defaults.SodiumMgPerLitre,
        ChlorideMgPerLitre = ChlorideMgPerLitre ?? defaults.ChlorideMgPerLitre,
        BoronMgPerLitre = BoronMgPerLitre ?? defaults.BoronMgPerLitre,
        ZincMgPerLitre = ZincMgPerLitre ?? defaults.ZincMgPerLitre,
        CopperMgPerLitre = CopperMgPerLitre ?? defaults.CopperMgPerLitre,
        ManganeseMgPerLitre = ManganeseMgPerLitre ?? defaults.ManganeseMgPerLitre,
        IronMgPerLitre = IronMgPerLitre ?? defaults.IronMgPerLitre,
        MolybdenumMgPerLitre = MolybdenumMgPerLitre ?? defaults.MolybdenumMgPerLitre,
        AmmoniumShareOfNitrogen = AmmoniumShareOfNitrogen ?? defaults.AmmoniumShareOfNitrogen,
        UreaShareOfNitrogen = UreaShareOfNitrogen ?? defaults.UreaShareOfNitrogen,
        EcMicrosiemensPerCm = EcMicrosiemensPerCm ?? defaults.EcMicrosiemensPerCm,
        Source = Source ?? defaults.Source,
    };
}

internal sealed record VesselDto(string? Name, double? Litres, double? RelativeVolumeError);

internal sealed record LeftoverDto
{
    public Guid? CanId { get; init; }
    public string? Name { get; init; }
    public double? Litres { get; init; }
    public double? AgeDays { get; init; }
    public double? BiuretMgPerLitre { get; init; }
    public Dictionary<string, double>? MmolPerKg { get; init; }
}

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    ReadCommentHandling = System.Text.Json.JsonCommentHandling.Skip,
    AllowTrailingCommas = true,
    PropertyNameCaseInsensitive = true,
    UseStringEnumConverter = true)]
[JsonSerializable(typeof(RequestDto))]
internal sealed partial class RequestJson : JsonSerializerContext;
