using System.Text.Json.Serialization;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>What the planner found: a plan, or why there is none, or a plan with what it could not meet.</summary>
public sealed record PlanOutcome
{
    /// <summary>Null only when nothing at all can be mixed; <see cref="Unmet"/> then says why.</summary>
    public required Plan? Plan { get; init; }

    /// <summary>Which wants are not met, by how much, and what would meet them. Empty when all are.</summary>
    public required IReadOnlyList<UnmetWant> Unmet { get; init; }
}

/// <summary>One want that is not met.</summary>
/// <param name="Group">Whose.</param>
/// <param name="What">In words: "nitrogen", "EC", "pH as poured".</param>
/// <param name="Reached">What the plan reaches, in <paramref name="Unit"/>.</param>
/// <param name="Low">The band's low end.</param>
/// <param name="High">The band's high end.</param>
/// <param name="Unit">mg/L, µS/cm or pH.</param>
/// <param name="WayOut">What would meet it: another product, blended water, one more can.</param>
public sealed record UnmetWant(string Group, string What, double Reached, double Low, double High, string Unit, string WayOut);

/// <summary>The cans to mix.</summary>
public sealed record Plan
{
    public required IReadOnlyList<CanPlan> Cans { get; init; }

    /// <summary>Recipes for concentrates that doses below the scale's reach ask for; empty when none are needed.</summary>
    public required IReadOnlyList<ConcentrateRecipe> Concentrates { get; init; }
    public required decimal Cost { get; init; }

    /// <summary>Proven distance of the plan's objective from the best possible, relative; zero when proven best.</summary>
    public required double RelativeGap { get; init; }
    public required TimeSpan Took { get; init; }

    /// <summary>Grams left of each product once the plan is mixed.</summary>
    public required IReadOnlyDictionary<Guid, double> GramsLeftAfter { get; init; }
}

/// <summary>What kind of thing a step does.</summary>
public enum MixStepKind
{
    Water,
    Leftover,
    EarlyAcid,
    Product,
    Trim,
}

/// <summary>One step of the card: what goes in, why now, and what the pens should read after it.</summary>
public sealed record MixStep
{
    public required int Number { get; init; }
    public required MixStepKind Kind { get; init; }
    public required string What { get; init; }
    public Guid? ProductId { get; init; }
    public Guid? LotId { get; init; }
    public Guid? WaterId { get; init; }

    /// <summary>The earlier can that a leftover is taken from.</summary>
    public Guid? FromCanId { get; init; }
    public required double Amount { get; init; }

    /// <summary>"g", "mL" or "L".</summary>
    public required string Unit { get; init; }

    /// <summary>Why it goes in at this place.</summary>
    public required string Reason { get; init; }

    /// <summary>Short cautions for this step; the full texts are in <c>Cupboard.SafetyTexts</c>.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>EC an ideal pen compensated to 25 °C reads after this step, µS/cm.</summary>
    public required Expected EcMicrosiemensPerCm { get; init; }
    public required Expected PH { get; init; }

    /// <summary>The mineral closest to falling out after this step and its saturation index (below zero: dissolved).</summary>
    public required string? ClosestMineral { get; init; }
    public required double? WorstSaturationIndex { get; init; }
}

/// <summary>One can: its card.</summary>
public sealed record CanPlan
{
    public required Guid Id { get; init; }

    /// <summary>A, B, C …</summary>
    public required string Letter { get; init; }
    public required string Vessel { get; init; }
    public required double Litres { get; init; }
    public required IReadOnlyList<MixStep> Steps { get; init; }

    /// <summary>What is in the finished can, closed.</summary>
    public required ComponentAmounts MolPerKgWater { get; init; }
    public required NutrientAmounts MgPerLitre { get; init; }

    /// <summary>EC at 25 °C of the finished can, µS/cm.</summary>
    public required Expected EcMicrosiemensPerCm { get; init; }

    /// <summary>EC as the grower's own pen shows it at the can's temperature, µS/cm.</summary>
    public required double EcOnPenMicrosiemensPerCm { get; init; }

    /// <summary>pH when just mixed.</summary>
    public required Expected PH { get; init; }

    /// <summary>pH after a day at the stated exchange rate.</summary>
    public required double PHAfterADay { get; init; }

    /// <summary>pH once it is in balance with the air.</summary>
    public required double PHInBalanceWithAir { get; init; }
    public required double AlkalinityMilliequivalentsPerLitre { get; init; }

    /// <summary>Biuret that its labels declare; the rest of the can brings it into the next one. Not written where there is none: cards kept before it was counted stay as they are.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public double BiuretMgPerLitre { get; init; }

    /// <summary>The worst moment along the mixing order and in the finished can: mineral and saturation index.</summary>
    public required string? ClosestMineral { get; init; }
    public required double? WorstSaturationIndex { get; init; }
    public required IReadOnlyList<ServedGroup> Serves { get; init; }
    public required decimal Cost { get; init; }

    /// <summary>Temperature at which it is mixed and poured, °C.</summary>
    public double TemperatureCelsius { get; init; } = 20;

    /// <summary>The strictest hard limits of those it serves; a repair keeps to them.</summary>
    public HardLimits Limits { get; init; } = new();

    /// <summary>Days after which it should no longer be poured, and why; null where nothing in it ages.</summary>
    public AgeLimit? AgeLimit { get; init; }

    /// <summary>The concentrates its doses are measured from: the card must carry their recipes, because it outlives the plan.</summary>
    public IReadOnlyList<ConcentrateRecipe> Concentrates { get; init; } = [];

    /// <summary>What the pens should read by what earlier cans taught, where that was asked for; null: by the card alone. Doses and hard limits are those of the labels either way.</summary>
    public LearnedReading? AsLearned { get; init; }

    /// <summary>What was added to put it right once it was mixed, oldest first. The figures above are those of the can as it is now.</summary>
    public IReadOnlyList<DoneRepair> Repairs { get; init; } = [];
}

/// <summary>Until when a can may be poured.</summary>
public sealed record AgeLimit(double Days, string Why);

/// <summary>Who gets it, and how each band comes out.</summary>
public sealed record ServedGroup(string Group, IReadOnlyList<Portion> Portions, IReadOnlyList<BandResult> Bands);

/// <summary>One band of a want with what the can brings.</summary>
public sealed record BandResult(string What, string Unit, Band Band, double Value, double ErrorLow, double ErrorHigh)
{
    public bool Met => Band.Holds(Value);
}

/// <summary>A stock solution made so that a dose too small for the scale can be measured by syringe.</summary>
public sealed record ConcentrateRecipe
{
    /// <summary>A, or A and B where salts clash.</summary>
    public required string Name { get; init; }
    public required double Litres { get; init; }
    public required IReadOnlyList<(Guid ProductId, string ProductName, double Grams)> Weigh { get; init; }

    /// <summary>The worst saturation index in the concentrate at its strength.</summary>
    public required double? WorstSaturationIndex { get; init; }
    public required string Reason { get; init; }
    public required IReadOnlyList<string> Cautions { get; init; }
}
