using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Labels;

/// <summary>How much of one salt is in a kilogram of product.</summary>
public sealed record SaltShare(Salt Salt, double KgPerKg);

/// <summary>One mix of salts that explains a label.</summary>
/// <param name="Salts">Largest first.</param>
/// <param name="FillerKgPerKg">What the salts leave of the kilogram: water in a liquid, dye, moisture and filler in a powder.</param>
/// <param name="ChiSquared">Σ (residual/σ)².</param>
/// <param name="Weight">Its share of the belief among the mixes found, 0 to 1.</param>
/// <param name="PHAt1GramPerLitre">Of 1 g/L in pure water, closed to the air, 25 °C.</param>
/// <param name="EcAt1GramPerLitreMicrosiemensPerCm">The same solution's EC.</param>
public sealed record SaltMix(IReadOnlyList<SaltShare> Salts, double FillerKgPerKg, double ChiSquared, double Weight, double PHAt1GramPerLitre, double EcAt1GramPerLitreMicrosiemensPerCm)
{
    /// <summary>Moles of each component in a kilogram of product; neutral, because every salt is.</summary>
    public ComponentAmounts MolPerKg => Salts.Aggregate(ComponentAmounts.Zero, (sum, share) => sum.PlusScaled(share.Salt.MolPerKg, share.KgPerKg));
}

/// <summary>A value with the band that the near-equally good mixes span (5th to 95th weighted percentile) and their standard deviation.</summary>
public sealed record Spread(double Low, double Value, double High, double StandardDeviation);

/// <summary>What a label means in salts, and how sure that is.</summary>
/// <remarks>docs/science/labels.md. EC cannot see urea, phosphite and micronutrients: a measured EC that agrees says nothing of them.</remarks>
public sealed record LabelInversion
{
    // Weights fall as exp(-score/2): beyond 12 a mix would carry less than a quarter of a per cent of the best one's.
    private const double WithinScore = 12;
    private const int Starts = 24;
    private const int MostMixes = 40;

    // A label states pH to a few tenths and EC to a few per cent of what a grower's pen shows (common practice, no source).
    private const double StatedPHSigma = 0.3, StatedEcRelativeSigma = 0.05;

    // Beyond this strength the activity model is weak; a pH stated for a liquid as sold is not used.
    private const double MostGramsPerLitre = 50;
    private static readonly TestCan s_oneGram = new() { GramsPerLitre = 1 };

    // A maker trims the pH of a batch with a little acid or base that no label shows: one standard deviation, mol of protons per kg of product
    // (0.06 % of potassium hydroxide or 0.06 % of citric acid; common practice, no source). And how well a batch meets its label.
    private const double TrimMolPerKg = 0.01, BatchRelative = 0.02;

    private static readonly ComponentAmounts s_acid = Formula.Parse("HCl").ComponentsPerMole, s_base = Formula.Parse("KOH").ComponentsPerMole;
    private static readonly Nutrient[] s_traces = [Nutrient.Iron, Nutrient.Manganese, Nutrient.Zinc, Nutrient.Copper, Nutrient.Boron, Nutrient.Molybdenum];

    public required Label Label { get; init; }

    /// <summary>Best first.</summary>
    public required IReadOnlyList<SaltMix> Mixes { get; init; }

    public SaltMix Best => Mixes[0];

    /// <summary>Declared against explained for the best mix.</summary>
    public required IReadOnlyList<ExplainedAmount> Explained { get; init; }

    /// <summary>pH of 1 g/L in pure water, closed, 25 °C.</summary>
    public required Spread PHAt1GramPerLitre { get; init; }

    /// <summary>EC of 1 g/L in pure water at 25 °C, µS/cm.</summary>
    public required Spread EcAt1GramPerLitreMicrosiemensPerCm { get; init; }

    /// <summary>What the best mix leaves unexplained, in words.</summary>
    public required IReadOnlyList<InputProblem> Problems { get; init; }

    /// <summary>Largest |explained − declared| of the best mix, relative to the declared amount.</summary>
    public double LargestRelativeResidual => Explained.Where(row => row.DeclaredMgPerKg > 0).Select(row => Math.Abs(row.ExplainedMgPerKg / row.DeclaredMgPerKg - 1)).DefaultIfEmpty().Max();

    /// <summary>Finds the mixes of known salts that explain a label.</summary>
    /// <param name="label">A label without errors.</param>
    /// <param name="cans">Test cans of the product that were measured; they weigh the mixes as a stated EC or pH does.</param>
    /// <param name="seed">Of the search; the same seed gives the same answer.</param>
    /// <exception cref="InvalidOperationException"><see cref="LabelCheck"/> finds an error in the label.</exception>
    public static LabelInversion Explain(Label label, IReadOnlyList<TestCan>? cans = null, int seed = 1)
    {
        var salts = SaltTable.All.Where(salt => (label.IsLiquid || !salt.OnlyDissolved) && MayHold(label, salt)).ToList();
        var equations = new LabelEquations(label, salts);
        var found = new SaltMixSearch(equations, Rarity(label, salts), [.. salts.Select(LeastKgPerKg)]).Run(Starts, seed, MostMixes, WithinScore);
        var mixes = Weigh([.. StatedAsCans(label), .. cans ?? []], found.Select(mix => (Mix: ToMix(salts, mix.KgPerKg, equations.ChiSquared(mix.KgPerKg)), mix.Score, mix.KgPerKg)).ToList());
        var best = mixes[0];
        var explained = equations.Explained(best.KgPerKg);
        List<SaltMix> all = [.. mixes.Select(mix => mix.Mix)];
        return new LabelInversion
        {
            Label = label,
            Mixes = all,
            Explained = explained,
            PHAt1GramPerLitre = SpreadOf(all, (mix, sigmas) => s_oneGram.Expected(Trimmed(mix, sigmas)).PH),
            EcAt1GramPerLitreMicrosiemensPerCm = SpreadOf(all, (mix, sigmas) => mix.EcAt1GramPerLitreMicrosiemensPerCm * (1 + sigmas * BatchRelative)),
            Problems = Unexplained(label, best.Mix, explained),
        };
    }

    /// <summary>What a can of the product should read, for the test can of a new product.</summary>
    /// <param name="can">Water and strength.</param>
    public (Spread PH, Spread EcMicrosiemensPerCm) ExpectedIn(TestCan can) =>
        (SpreadOf(Mixes, (mix, sigmas) => can.Expected(Trimmed(mix, sigmas)).PH),
            SpreadOf(Mixes, (mix, sigmas) => can.Expected(mix.MolPerKg.Scaled(1 + sigmas * BatchRelative)).EcMicrosiemensPerCm));

    private static ComponentAmounts Trimmed(SaltMix mix, double sigmas) => mix.MolPerKg.PlusScaled(sigmas > 0 ? s_acid : s_base, Math.Abs(sigmas) * TrimMolPerKg);

    // Salts of nutrients that a label would name if it held them are left out when it names none of theirs; that keeps the search small.
    private static bool MayHold(Label label, Salt salt)
    {
        var named = label.Declarations.Where(line => line.Percent > 0).Select(line => line.Form.CountsAs()).ToHashSet();
        return !s_traces.Append(Nutrient.Silicon).Any(nutrient => salt.MgPerKg[nutrient] > 0 && !named.Contains(nutrient));
    }

    // A main salt under 0.2 % is below what a label resolves; trace salts are declared to the thousandth of a per cent.
    private static double LeastKgPerKg(Salt salt) => IsTrace(salt) ? 1e-5 : 2e-3;

    private static bool IsTrace(Salt salt) => s_traces.Any(trace => salt.MgPerKg[trace] > 0);

    // Where the label says what it is made from, that is nearly certain for the main salts and a good hint for traces.
    private static double[] Rarity(Label label, IReadOnlyList<Salt> salts) => [.. salts.Select(salt => label.DerivedFrom.Count == 0
        ? salt.Rarity
        : label.DerivedFrom.Contains(salt.Formula) ? 0.5 : salt.Rarity + 4)];

    private static SaltMix ToMix(IReadOnlyList<Salt> salts, double[] kgPerKg, double chiSquared)
    {
        var shares = salts.Select((salt, j) => new SaltShare(salt, kgPerKg[j])).Where(share => share.KgPerKg > 1e-9).OrderByDescending(share => share.KgPerKg).ToList();
        var mix = new SaltMix(shares, Math.Max(0, 1 - shares.Sum(share => share.KgPerKg)), chiSquared, 0, double.NaN, double.NaN);
        var (pH, ec) = s_oneGram.Expected(mix.MolPerKg);
        return mix with { PHAt1GramPerLitre = pH, EcAt1GramPerLitreMicrosiemensPerCm = ec };
    }

    private static IEnumerable<TestCan> StatedAsCans(Label label)
    {
        if (label.StatedPH is { GramsPerLitre: <= MostGramsPerLitre } pH)
        {
            yield return new TestCan { GramsPerLitre = pH.GramsPerLitre, PH = pH.Value, PHSigma = StatedPHSigma };
        }

        if (label.StatedEcMicrosiemensPerCm is { GramsPerLitre: <= MostGramsPerLitre } ec)
        {
            yield return new TestCan { GramsPerLitre = ec.GramsPerLitre, EcMicrosiemensPerCm = ec.Value, EcRelativeSigma = StatedEcRelativeSigma };
        }
    }

    private static List<(SaltMix Mix, double[] KgPerKg)> Weigh(IReadOnlyList<TestCan> cans, List<(SaltMix Mix, double Score, double[] KgPerKg)> found)
    {
        var scored = found.Select(mix =>
        {
            var score = mix.Score;
            foreach (var can in cans)
            {
                var (pH, ec) = can.Expected(mix.Mix.MolPerKg);
                score += can.PH is { } measuredPH ? Square((pH - measuredPH) / can.PHSigma) : 0;
                score += can.EcMicrosiemensPerCm is { } measuredEc ? Square((ec / measuredEc - 1) / can.EcRelativeSigma) : 0;
            }

            return (mix.Mix, mix.KgPerKg, Score: score);
        }).DistinctBy(mix => string.Join('+', mix.Mix.Salts.Select(share => share.Salt.Formula).Order())).OrderBy(mix => mix.Score).ToList();
        var weights = scored.Select(mix => Math.Exp((scored[0].Score - mix.Score) / 2)).ToList();
        var total = weights.Sum();
        return [.. scored.Select((mix, i) => (mix.Mix with { Weight = weights[i] / total }, mix.KgPerKg))];
    }

    private static double Square(double value) => value * value;

    // Each mix stands for a normal distribution, sampled at the three Gauss-Hermite points: the centre with 2/3 of the weight, ±√3 σ with 1/6 each.
    private static Spread SpreadOf(IReadOnlyList<SaltMix> mixes, Func<SaltMix, double, double> read)
    {
        var points = mixes.SelectMany(mix => new[]
        {
            (Value: read(mix, 0), Weight: mix.Weight * 2 / 3),
            (Value: read(mix, Math.Sqrt(3)), Weight: mix.Weight / 6),
            (Value: read(mix, -Math.Sqrt(3)), Weight: mix.Weight / 6),
        }).OrderBy(point => point.Value).ToList();
        var mean = points.Sum(point => point.Weight * point.Value);
        var variance = points.Sum(point => point.Weight * Square(point.Value - mean));
        var best = read(mixes[0], 0);
        return new Spread(Math.Min(Percentile(0.05), best), best, Math.Max(Percentile(0.95), best), Math.Sqrt(variance));

        double Percentile(double share)
        {
            var sum = 0.0;
            foreach (var (value, weight) in points)
            {
                sum += weight;
                if (sum >= share)
                {
                    return value;
                }
            }

            return points[^1].Value;
        }
    }

    private static List<InputProblem> Unexplained(Label label, SaltMix best, IReadOnlyList<ExplainedAmount> explained)
    {
        var problems = new List<InputProblem>();
        foreach (var row in explained.Where(row => Math.Abs(row.ExplainedMgPerKg - row.DeclaredMgPerKg) > 3 * row.SigmaMgPerKg))
        {
            problems.Add(InputProblem.Warning(row.What, LabelCheck.Say(row.DeclaredMgPerKg / 1e4),
                $"Known salts explain {LabelCheck.Say(row.ExplainedMgPerKg / 1e4)} % of it as element, the label declares {LabelCheck.Say(row.DeclaredMgPerKg / 1e4)} %. A line may be missing or misread, or it holds a salt that is not in the table."));
        }

        if (!label.IsLiquid && best.FillerKgPerKg > 0.25)
        {
            problems.Add(InputProblem.Warning("analysis", null, $"The salts found make up only {best.Salts.Sum(share => share.KgPerKg):0%} of the product: the rest is filler, or something that the label does not declare."));
        }

        return problems;
    }
}
