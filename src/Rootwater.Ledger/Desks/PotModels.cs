using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>A pot of the bench as the pot model sees it.</summary>
internal static class PotModels
{
    // Nobody measures leaves before a pot may be forecast. From memory: a mature small Phalaenopsis, 0.03 m², stands in about 0.8 L.
    private const double LeafSquareMetresPerMediumLitre = 0.04;

    /// <exception cref="EntryException">The medium is not one whose values are known.</exception>
    public static PotSetup SetupOf(PotRow pot) => SetupOf(pot.ToPot());

    /// <exception cref="EntryException">The medium is not one whose values are known.</exception>
    public static PotSetup SetupOf(Pot pot) => new()
    {
        Id = pot.Id,
        Medium = MediumOf(pot.Medium),
        MediumLitres = pot.MediumLitres,
        ReservoirLitres = pot.Culture == Culture.Wicking ? pot.ReservoirLitres : 0,
        Culture = pot.Culture,
        LeafAreaSquareMetres = LeafSquareMetresPerMediumLitre * pot.MediumLitres,
    };

    /// <summary>Null where its medium is not known, or its sizes are beyond what the model takes.</summary>
    public static PotSetup? TrySetupOf(PotRow pot) => TrySetupOf(pot.ToPot());

    /// <inheritdoc cref="TrySetupOf(PotRow)"/>
    public static PotSetup? TrySetupOf(Pot pot) =>
        FindMedium(pot.Medium) is null || pot.MediumLitres is < 0.02 or > 50 || (pot.Culture == Culture.Wicking && pot.ReservoirLitres is < 0.01 or > 50) ? null : SetupOf(pot);

    public static string LeafAssumption(PotSetup setup) =>
        FormattableString.Invariant($"Leaf area was not measured: {setup.LeafAreaSquareMetres * 1e4:0} cm² is taken from the size of the pot.");

    /// <summary>A pot just filled with a feed, with the base and salt that its medium still has where that is known.</summary>
    public static PotState FilledWith(PotSetup setup, ComponentAmounts feed, FittedPot? known)
    {
        var fresh = PotState.FilledWith(setup, feed);
        return known is null ? fresh : fresh with { BaseHeldMeq = known.StateNow.BaseHeldMeq, SaltLeftMeq = known.StateNow.SaltLeftMeq };
    }

    /// <summary>A feed that brings a want's ideals and nothing else, its nitrogen as nitrate: enough to say how a pot treats such feeds.</summary>
    public static ComponentAmounts NominalFeed(Want want)
    {
        double Moles(Nutrient nutrient) =>
            (want.FeedMgPerLitre.TryGetValue(nutrient, out var band) ? band.Ideal : 0) / 1000 / Nutrients.CarrierOf(nutrient).GramsPerMole;
        var (k, ca, mg, p) = (Moles(Nutrient.Potassium), Moles(Nutrient.Calcium), Moles(Nutrient.Magnesium), Moles(Nutrient.Phosphorus));
        var nitrate = want.TotalNitrogenMgPerLitre.Ideal / 1000 / Nutrients.CarrierOf(Nutrient.NitrateNitrogen).GramsPerMole;
        // Phosphate goes in as dihydrogen phosphate; what charge is left over is sulfate, or chloride's stand-in for a base is not needed.
        var sulfate = Math.Max(0, (k + 2 * ca + 2 * mg - nitrate - p) / 2);
        return ComponentAmounts.From(
            (Component.Potassium, k), (Component.Calcium, ca), (Component.Magnesium, mg), (Component.Nitrate, nitrate),
            (Component.Phosphate, p), (Component.Sulfate, sulfate), (Component.Hydrogen, nitrate + 3 * p + 2 * sulfate - k - 2 * ca - 2 * mg));
    }

    private static Medium MediumOf(string name) => FindMedium(name)
        ?? throw new EntryException("medium", name, "a medium whose values are known: " + string.Join(", ", Media.All.Select(medium => medium.Id.Replace('-', ' '))));

    private static Medium? FindMedium(string name)
    {
        var id = name.Trim().ToLowerInvariant().Replace(' ', '-');
        return Media.All.FirstOrDefault(medium => medium.Id == id || string.Equals(medium.Name, name, StringComparison.OrdinalIgnoreCase));
    }
}
