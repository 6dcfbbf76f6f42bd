namespace Rootwater.Growing.Evidence.Pooling;

/// <summary>Losses of one plant over its time under watch.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="Kind">Its kind: what it borrows from.</param>
/// <param name="Losses">Leaves lost.</param>
/// <param name="LeafYears">Leaf-years watched.</param>
public sealed record PlantLosses(string Plant, string Kind, int Losses, double LeafYears);

/// <summary>A plant's hazard, borrowed where its own records are thin.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="Middle">Losses per leaf-year, as likely too high as too low.</param>
/// <param name="Lower">Lower end of the band.</param>
/// <param name="Upper">Upper end of the band.</param>
/// <param name="Borrowed">Share of the estimate that comes from its kind (0 its own records, 1 its kind).</param>
/// <param name="Words">How much it borrows, in a sentence.</param>
public sealed record PooledHazard(string Plant, double Middle, double Lower, double Upper, double Borrowed, string Words);

/// <summary>
/// Partial pooling of leaf hazards within a kind: losses are Poisson; log hazards of a kind follow Student's t with two degrees of freedom (what shortens a leaf's life multiplies its hazard, and now
/// and then a plant is odd). Mean and spread of that t are weighed over a grid, so that a plant's band carries what few plants leave open of their kind (hierarchical models: Gelman and others,
/// Bayesian Data Analysis, chapter 5; priors of a spread: Gelman 2006, Bayesian Analysis 1, 515; both from memory).
/// </summary>
public static class LeafHazards
{
    /// <summary>Every plant's hazard with its band. A kind with one plant borrows from all plants.</summary>
    public static IReadOnlyList<PooledHazard> Pool(IReadOnlyList<PlantLosses> plants, double level = 0.9)
    {
        foreach (var plant in plants)
        {
            if (plant.Losses < 0 || !(plant.LeafYears > 0))
            {
                throw new EvidenceInputException($"plant {plant.Plant}", plant.LeafYears, "losses of 0 or more over a time above 0");
            }
        }

        var byKind = plants.GroupBy(plant => plant.Kind).ToDictionary(kind => kind.Key, kind => kind.ToList());
        var kinds = new Dictionary<string, KindOfHazards>();
        var result = new List<PooledHazard>();
        foreach (var plant in plants)
        {
            var alone = byKind[plant.Kind].Count == 1;
            var key = alone ? "" : plant.Kind;
            if (!kinds.TryGetValue(key, out var kind))
            {
                kinds[key] = kind = new KindOfHazards(alone ? plants : byKind[plant.Kind]);
            }

            var (middle, lower, upper, borrowed) = kind.Of(plant, level);
            var from = alone ? "all plants together (it is the only one of its kind)" : plant.Kind;
            result.Add(new PooledHazard(
                plant.Plant,
                middle,
                lower,
                upper,
                borrowed,
                FormattableString.Invariant($"{plant.Losses} losses in {plant.LeafYears:0.#} leaf-years: {100 * borrowed:0} % of this figure is borrowed from {from}; the rest is its own.")));
        }

        return result;
    }
}
