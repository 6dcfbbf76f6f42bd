using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Labels;

/// <summary>What a label says as weighted linear equations in the masses of the candidate salts (kg per kg of product), and the last unknown, filler or water.</summary>
/// <remarks>
/// One row per declared nutrient, divided by its standard deviation: rounding (half a digit over √3) and what a maker allows himself, 1 % relative
/// (common practice, no source; fertilizer law allows more). What a label does not name is taken as absent, loosely where the law does not ask for it (sulfur,
/// chloride, sodium), tightly otherwise. The masses and the filler add to one kilogram.
/// </remarks>
internal sealed class LabelEquations
{
    private const double MakerRelative = 0.01;

    // At the zero level of alkalinity, as a fertilizer's phosphate mostly is: H2PO4-.
    private static readonly (Nutrient Nutrient, int Charge)[] s_charges =
    [
        (Nutrient.NitrateNitrogen, -1), (Nutrient.AmmoniumNitrogen, 1), (Nutrient.Phosphorus, -1), (Nutrient.Potassium, 1), (Nutrient.Calcium, 2), (Nutrient.Magnesium, 2),
        (Nutrient.Sulfur, -2), (Nutrient.Sodium, 1), (Nutrient.Chloride, -1),
    ];

    private readonly List<double[]> _rows = [];
    private readonly List<double> _right = [];

    /// <summary>Rows that the label itself declares, for the report of what is left over.</summary>
    private readonly List<(string What, double MgPerKg, double SigmaMgPerKg, double[] MgPerKgOfSalt)> _declared = [];

    public LabelEquations(Label label, IReadOnlyList<Salt> salts)
    {
        Salts = salts;
        var contents = label.Contents();
        AddNitrogen(contents);
        foreach (var nutrient in Enum.GetValues<Nutrient>().Where(nutrient => !LabelContents.IsNitrogen(nutrient)))
        {
            if (!contents.Declared.TryGetValue(nutrient, out var declared))
            {
                AddSilent(nutrient, SilenceSigmaMgPerKg(nutrient) + UnspokenAnionMgPerKg(nutrient, contents));
            }
            else if (declared.ChelatedMgPerKg.Count == 0)
            {
                AddDeclared(nutrient.ToString(), salt => salt.MgPerKg[nutrient], declared.MgPerKg, declared.RoundingMgPerKg);
            }
            else
            {
                AddChelated(nutrient, declared);
            }
        }

        AddUnlabelled();
        AddMass(label.IsLiquid);
        Rows = Matrix(_rows, salts.Count + 1);
        Right = [.. _right];
        Solver = new NonNegativeLeastSquares(Rows, Right);
    }

    public IReadOnlyList<Salt> Salts { get; }

    public double[,] Rows { get; }

    public double[] Right { get; }

    public NonNegativeLeastSquares Solver { get; }

    /// <summary>Σ (residual / σ)².</summary>
    public double ChiSquared(double[] kgPerKg)
    {
        var sum = 0.0;
        for (var i = 0; i < Right.Length; i++)
        {
            var residual = -Right[i];
            for (var j = 0; j < kgPerKg.Length; j++)
            {
                residual += Rows[i, j] * kgPerKg[j];
            }

            sum += residual * residual;
        }

        return sum;
    }

    /// <summary>Declared against explained, mg/kg.</summary>
    public IReadOnlyList<ExplainedAmount> Explained(double[] kgPerKg) => [.. _declared.Select(row =>
        new ExplainedAmount(row.What, row.MgPerKg, row.MgPerKgOfSalt.Select((mg, j) => mg * kgPerKg[j]).Sum(), row.SigmaMgPerKg))];

    private void AddNitrogen(LabelContents contents)
    {
        var named = contents.Declared.Keys.Where(LabelContents.IsNitrogen).ToList();
        var unsaid = contents.UnspecifiedNitrogenMgPerKg;
        if (contents.TotalNitrogenMgPerKg > 0 || unsaid > 0)
        {
            AddDeclared("total nitrogen", salt => salt.MgPerKg.TotalNitrogen, contents.TotalNitrogenMgPerKg, contents.TotalNitrogenRoundingMgPerKg);
        }

        foreach (var nutrient in (ReadOnlySpan<Nutrient>)[Nutrient.NitrateNitrogen, Nutrient.AmmoniumNitrogen, Nutrient.UreaNitrogen])
        {
            if (contents.Declared.TryGetValue(nutrient, out var declared))
            {
                // Where the parts do not reach the total, a named form may hold more than it names.
                AddDeclared(nutrient.ToString(), salt => salt.MgPerKg[nutrient], declared.MgPerKg, declared.RoundingMgPerKg + unsaid);
            }
            else if (named.Count > 0 && unsaid == 0)
            {
                AddSilent(nutrient, 1000);
            }
            else if (contents.TotalNitrogenMgPerKg == 0)
            {
                AddSilent(nutrient, 300);
            }
        }
    }

    private void AddChelated(Nutrient nutrient, DeclaredAmount declared)
    {
        foreach (var (chelator, mgPerKg) in declared.ChelatedMgPerKg)
        {
            AddDeclared($"{nutrient} by {chelator}", salt => Holds(salt, chelator) ? salt.MgPerKg[nutrient] : 0, mgPerKg, declared.RoundingMgPerKg);
        }

        AddDeclared(nutrient.ToString(), salt => salt.MgPerKg[nutrient], declared.MgPerKg, declared.RoundingMgPerKg);
    }

    private static bool Holds(Salt salt, Chelator chelator) => chelator == Chelator.Unnamed
        ? ChelatorOf(salt) != Chelator.None
        : ChelatorOf(salt) == chelator;

    internal static Chelator ChelatorOf(Salt salt) => salt.Formula switch
    {
        var formula when formula.Contains("HEDTA", StringComparison.Ordinal) => Chelator.Hedta,
        var formula when formula.Contains("EDTA", StringComparison.Ordinal) => Chelator.Edta,
        var formula when formula.Contains("DTPA", StringComparison.Ordinal) => Chelator.Dtpa,
        var formula when formula.Contains("EDDHA", StringComparison.Ordinal) => Chelator.Eddha,
        _ => Chelator.None,
    };

    private void AddDeclared(string what, Func<Salt, double> mgPerKgOf, double mgPerKg, double roundingMgPerKg)
    {
        var sigma = Math.Sqrt(roundingMgPerKg * roundingMgPerKg / 3 + MakerRelative * mgPerKg * MakerRelative * mgPerKg + 1);
        var ofSalt = Salts.Select(mgPerKgOf).ToArray();
        _declared.Add((what, mgPerKg, sigma, ofSalt));
        AddRow([.. ofSalt, 0], mgPerKg, sigma);
    }

    private void AddSilent(Nutrient nutrient, double sigmaMgPerKg) => AddRow([.. Salts.Select(salt => salt.MgPerKg[nutrient]), 0], 0, sigmaMgPerKg);

    // Organic acids and carbonates are on no label; makers trim with a little of them, they do not fill up with them (common practice, no source).
    private void AddUnlabelled()
    {
        foreach (var component in (ReadOnlySpan<Component>)[Component.Citrate, Component.Acetate, Component.Carbonate])
        {
            AddRow([.. Salts.Select(salt => salt.MolPerKg[component] > 0 ? 1.0 : 0.0), 0], 0, 0.02);
        }
    }

    private void AddMass(bool liquid)
    {
        AddRow([.. Salts.Select(_ => 1.0), 1], 1, 1e-4);
        if (!liquid)
        {
            // A powder is mostly its salts; dye, filler and moisture are seldom more than a third of it (common practice, no source).
            var filler = new double[Salts.Count + 1];
            filler[^1] = 1;
            AddRow(filler, 0, 0.3);
        }
    }

    // Standard deviation of what may be there though the label does not name it, mg/kg (common practice, no source).
    private static double SilenceSigmaMgPerKg(Nutrient nutrient) => nutrient switch
    {
        Nutrient.Sulfur or Nutrient.Chloride => 40_000,
        Nutrient.Sodium => 20_000,
        Nutrient.Calcium or Nutrient.Magnesium => 2_000,
        Nutrient.Phosphorus or Nutrient.Potassium => 500,
        Nutrient.Silicon => 500,
        _ => 30,
    };

    /// <summary>Where declared cations outweigh declared anions, sulfate or chloride must be there unsaid: as much of either as would make it up, mg/kg.</summary>
    private static double UnspokenAnionMgPerKg(Nutrient nutrient, LabelContents contents)
    {
        if (nutrient is not (Nutrient.Sulfur or Nutrient.Chloride))
        {
            return 0;
        }

        var charge = s_charges.Sum(pair => pair.Charge * contents.MgPerKg[pair.Nutrient] / Nutrients.CarrierOf(pair.Nutrient).GramsPerMole);
        return Math.Max(0, charge) * Nutrients.CarrierOf(nutrient).GramsPerMole / (nutrient == Nutrient.Sulfur ? 2 : 1);
    }

    private void AddRow(double[] row, double right, double sigma)
    {
        for (var j = 0; j < row.Length; j++)
        {
            row[j] /= sigma;
        }

        _rows.Add(row);
        _right.Add(right / sigma);
    }

    private static double[,] Matrix(List<double[]> rows, int columns)
    {
        var matrix = new double[rows.Count, columns];
        for (var i = 0; i < rows.Count; i++)
        {
            for (var j = 0; j < columns; j++)
            {
                matrix[i, j] = rows[i][j];
            }
        }

        return matrix;
    }
}

/// <summary>One declared amount against what a mix of salts explains of it.</summary>
/// <param name="What">The nutrient.</param>
/// <param name="DeclaredMgPerKg">On the label, as element.</param>
/// <param name="ExplainedMgPerKg">In the mix.</param>
/// <param name="SigmaMgPerKg">One standard deviation that rounding and the maker's tolerance allow.</param>
public sealed record ExplainedAmount(string What, double DeclaredMgPerKg, double ExplainedMgPerKg, double SigmaMgPerKg);
