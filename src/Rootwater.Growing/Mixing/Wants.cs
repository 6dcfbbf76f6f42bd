namespace Rootwater.Growing.Mixing;

/// <summary>What never may be exceeded, judged at the upper edge of the error band; never traded against a band.</summary>
public sealed record HardLimits
{
    public double SodiumMgPerLitre { get; init; } = 70;
    public double ChlorideMgPerLitre { get; init; } = 100;
    public double BoronMgPerLitre { get; init; } = 1.0;
    public double ZincMgPerLitre { get; init; } = 1.0;
    public double CopperMgPerLitre { get; init; } = 0.3;
    public double ManganeseMgPerLitre { get; init; } = 2.0;

    /// <summary>Iron in any form; a chelate tolerates much, a root less.</summary>
    public double IronMgPerLitre { get; init; } = 12;
    public double MolybdenumMgPerLitre { get; init; } = 0.5;

    /// <summary>Ammonium nitrogen as a share of all nitrogen (0 to 1).</summary>
    public double AmmoniumShareOfNitrogen { get; init; } = 0.3;

    /// <summary>Urea nitrogen as a share of all nitrogen (0 to 1).</summary>
    public double UreaShareOfNitrogen { get; init; } = 0.3;
    public double EcMicrosiemensPerCm { get; init; } = 1500;

    /// <summary>Biuret, where labels declare it. Common practice, no source: a few mg/L in the root's water mark the tips of tender leaves.</summary>
    public double BiuretMgPerLitre { get; init; } = 2;

    /// <summary>Where the limits come from, or "common practice, no source".</summary>
    public string Source { get; init; } = "common practice, no source";
}

/// <summary>What a group of plants wants of its feed, as poured, and of the water at its roots.</summary>
public sealed record Want
{
    public required string Name { get; init; }

    /// <summary>Bands of the feed as poured, mg of the element per litre. Nutrients not named are free within the hard limits.</summary>
    public required IReadOnlyDictionary<Nutrient, Band> FeedMgPerLitre { get; init; }

    /// <summary>Band of all nitrogen, mg/L.</summary>
    public required Band TotalNitrogenMgPerLitre { get; init; }

    /// <summary>Band of the feed's EC at 25 °C, µS/cm.</summary>
    public required Band EcMicrosiemensPerCm { get; init; }

    /// <summary>Window of the pH at the root.</summary>
    public required Band RootPH { get; init; }
    public HardLimits Limits { get; init; } = new();

    /// <summary>Published source, or "common practice, no source".</summary>
    public required string Source { get; init; }
}

/// <summary>One plant's share of a can, in the order of the walk.</summary>
public sealed record Portion
{
    public required Guid PlantId { get; init; }
    public required int Number { get; init; }
    public required string PlantName { get; init; }
    public required string Place { get; init; }
    public required double Millilitres { get; init; }
    public required int WalkOrder { get; init; }
}

/// <summary>Plants that want the same thing and stand in pots that treat it alike, so that one can may serve them.</summary>
public sealed record WantGroup
{
    public required string Name { get; init; }
    public required Want Want { get; init; }

    /// <summary>The pH to pour at so that the roots find theirs; from the pot forecast's inverse.</summary>
    public required Band PourPH { get; init; }
    public required IReadOnlyList<Portion> Portions { get; init; }
    public double Litres => Portions.Sum(portion => portion.Millilitres) / 1000;
}
