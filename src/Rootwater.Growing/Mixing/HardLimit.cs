namespace Rootwater.Growing.Mixing;

/// <summary>One hard limit.</summary>
/// <param name="Name">What it is called on the card.</param>
/// <param name="Measure">What it limits.</param>
/// <param name="Limit">mg/L, µS/cm, or a share of all nitrogen.</param>
/// <param name="ShareOfNitrogen">The nutrient whose share is limited, or null for a plain ceiling.</param>
internal sealed record HardLimit(string Name, Measure Measure, double Limit, Nutrient? ShareOfNitrogen = null)
{
    /// <summary>All limits as a list.</summary>
    public static IReadOnlyList<HardLimit> All(HardLimits limits) =>
    [
        Ceiling(Nutrient.Sodium, limits.SodiumMgPerLitre), Ceiling(Nutrient.Chloride, limits.ChlorideMgPerLitre),
        Ceiling(Nutrient.Boron, limits.BoronMgPerLitre), Ceiling(Nutrient.Zinc, limits.ZincMgPerLitre),
        Ceiling(Nutrient.Copper, limits.CopperMgPerLitre), Ceiling(Nutrient.Manganese, limits.ManganeseMgPerLitre),
        Ceiling(Nutrient.Iron, limits.IronMgPerLitre), Ceiling(Nutrient.Molybdenum, limits.MolybdenumMgPerLitre),
        Share(Nutrient.AmmoniumNitrogen, limits.AmmoniumShareOfNitrogen), Share(Nutrient.UreaNitrogen, limits.UreaShareOfNitrogen),
        new("EC", new Measure(MeasureKind.Ec), limits.EcMicrosiemensPerCm),
    ];

    private static HardLimit Ceiling(Nutrient nutrient, double limit) => new(Nutrients.NameOf(nutrient), Measure.Of(nutrient), limit);

    private static HardLimit Share(Nutrient nutrient, double limit) => new($"{Nutrients.NameOf(nutrient)} as a share of all nitrogen", Measure.Of(nutrient), limit, nutrient);

    /// <summary>Where the upper 95 % error edge stands in a can: above the limit the can may not be poured.</summary>
    public LimitEdge Edge(SolvedCan can, ErrorSpread spread)
    {
        if (ShareOfNitrogen is not { } nutrient)
        {
            var value = CanGoal.Value(Measure, can);
            var error = Measure.Kind == MeasureKind.Ec ? spread.EcSd : spread.Sd(mg => mg[(Nutrient)Measure.Index]);
            return new LimitEdge(this, value, value + ErrorSpread.Interval * error);
        }

        var (part, whole) = (can.MgPerLitre[nutrient], can.MgPerLitre.TotalNitrogen);
        if (part <= 0)
        {
            return new LimitEdge(this, 0, 0);
        }

        // part - limit × whole ≤ 0 at its upper edge, written as an edge of the part so that one factor serves the program.
        var both = spread.Sd(mg => mg[nutrient] - Limit * mg.TotalNitrogen);
        return new LimitEdge(this, part / whole, (part + ErrorSpread.Interval * both) / whole);
    }
}

/// <summary>A limit in a can.</summary>
/// <param name="Limit">Which.</param>
/// <param name="Value">What the can holds.</param>
/// <param name="Edge">Its upper 95 % error edge.</param>
internal readonly record struct LimitEdge(HardLimit Limit, double Value, double Edge)
{
    // A billionth covers the rounding of sums; it is no allowance.
    public bool Broken => Edge > Limit.Limit * (1 + 1e-9) + 1e-12;

    public double Factor => Value > 1e-12 ? Edge / Value : EdgeFactors.Unknown;
}
