namespace Rootwater.Growing.Pots;

/// <summary>A pot: its medium, its sizes and its plant.</summary>
public sealed record PotSetup
{
    public required Guid Id { get; init; }
    public required Medium Medium { get; init; }

    /// <summary>Medium in the pot, litres (0.02 to 50).</summary>
    public required double MediumLitres { get; init; }

    /// <summary>What the reservoir holds when full, litres; zero for every culture but wicking.</summary>
    public double ReservoirLitres { get; init; }
    public required Culture Culture { get; init; }

    /// <summary>Leaf area of the plant, one side, m² (0 to 3). A mature small Phalaenopsis has about 0.03 (from memory).</summary>
    public required double LeafAreaSquareMetres { get; init; }

    /// <summary>Litres of water the wicked medium holds when it has all it can draw.</summary>
    public double HeldLitres => MediumLitres * Medium.WaterHeldLitresPerLitre;

    /// <summary>Medium surface that meets the air, m²: the top of a cylinder as wide as high (d² π/4 with V = d³ π/4), times what the culture exposes.</summary>
    /// <remarks>The exposures are from memory: pot 1, basket 3 (its sides are open), mount 4.</remarks>
    public double ExposedSquareMetres
    {
        get
        {
            var diameterMetres = Math.Cbrt(MediumLitres / 1000 * 4 / Math.PI);
            var top = diameterMetres * diameterMetres * Math.PI / 4;
            return top * Culture switch { Culture.Basket => 3, Culture.Mounted => 4, _ => 1 };
        }
    }

    internal void Check()
    {
        PotInputException.RequireWithin("pot.mediumLitres", MediumLitres, 0.02, 50, "litres");
        PotInputException.RequireWithin("pot.leafAreaSquareMetres", LeafAreaSquareMetres, 0, 3, "m²");
        if (Culture == Culture.Wicking)
        {
            PotInputException.RequireWithin("pot.reservoirLitres", ReservoirLitres, 0.01, 50, "litres for a wicking pot");
        }
        else if (ReservoirLitres != 0)
        {
            throw new PotInputException("pot.reservoirLitres", ReservoirLitres, $"0: a pot of the culture {Culture} has no reservoir");
        }
    }
}
