namespace Rootwater.Growing.Labels;

/// <summary>Whether a label can be true: amounts in range, parts that add up, a total that fits into a kilogram, a density where one is needed.</summary>
public static class LabelCheck
{
    // Below water no fertilizer liquid is sold; the heaviest (saturated nitrate or phosphate liquids) stay under 2 (common practice, no source).
    private const double LeastDensityKgPerLitre = 0.7, MostDensityKgPerLitre = 2.2;

    /// <summary>What is wrong or doubtful; no errors in it means the label can be used.</summary>
    public static IReadOnlyList<InputProblem> Of(Label label)
    {
        var problems = new List<InputProblem>();
        if (label.Declarations.Count == 0)
        {
            problems.Add(InputProblem.Error("analysis", null, "No nutrient is declared. Enter at least one, for example \"N 14 %\"."));
        }

        foreach (var line in label.Declarations)
        {
            if (!double.IsFinite(line.Percent) || line.Percent < 0 || line.Percent > 100)
            {
                problems.Add(InputProblem.Error(line.Form.Words(), Say(line.Percent), "A share must lie between 0 and 100 %."));
            }

            if (line.Chelator != Chelator.None && !line.Form.IsChelatable())
            {
                problems.Add(InputProblem.Warning(line.Form.Words(), line.Chelator.ToString(), "Only iron, manganese, zinc and copper are bound by chelators; this chelator is not used."));
            }
        }

        CheckDensity(label, problems);
        if (problems.Any(problem => problem.Severity == Severity.Error))
        {
            return problems;
        }

        CheckNitrogen(label, problems);
        CheckSaidTwice(label, problems);
        CheckSum(label, problems);
        return problems;
    }

    private static void CheckDensity(Label label, List<InputProblem> problems)
    {
        if (label.DensityKgPerLitre is { } density)
        {
            if (!(density is >= LeastDensityKgPerLitre and <= MostDensityKgPerLitre))
            {
                problems.Add(InputProblem.Error("density", Say(density), $"A density must lie between {LeastDensityKgPerLitre} and {MostDensityKgPerLitre} kg/L (1.25 kg/L is 1250 g/L)."));
            }
        }
        else if (label.Basis == LabelBasis.ByVolume)
        {
            problems.Add(InputProblem.Error("density", null, "The label counts by volume (g per 100 mL or g/L), so its density in kg/L is needed. Weigh 100 mL of it: 125 g is 1.25 kg/L."));
        }
    }

    private static void CheckNitrogen(Label label, List<InputProblem> problems)
    {
        var total = label.Declarations.Where(line => line.Form == DeclaredForm.TotalNitrogen).MinBy(line => line.RoundingPercent);
        var parts = label.Declarations.Where(line => line.Form is DeclaredForm.NitrateNitrogen or DeclaredForm.AmmoniacalNitrogen or DeclaredForm.UreaNitrogen).ToList();
        if (total is null || parts.Count == 0)
        {
            return;
        }

        var sum = parts.Sum(line => line.Percent);
        var allowed = total.RoundingPercent + parts.Sum(line => line.RoundingPercent) + 1e-9;
        if (sum > total.Percent + allowed)
        {
            problems.Add(InputProblem.Error("total nitrogen", Say(total.Percent), $"The forms of nitrogen add to {Say(sum)} %, more than the total of {Say(total.Percent)} %. One of them was misread."));
        }
        else if (sum < total.Percent - allowed)
        {
            problems.Add(InputProblem.Warning("total nitrogen", Say(total.Percent), $"The forms of nitrogen add to {Say(sum)} %, the total is {Say(total.Percent)} %: the form of {Say(total.Percent - sum)} % is not said. Is a line missing?"));
        }
    }

    private static void CheckSaidTwice(Label label, List<InputProblem> problems)
    {
        var totals = label.Declarations.Where(line => line is { Chelator: Chelator.None, WaterSoluble: false });
        foreach (var group in totals.GroupBy(line => line.Form.CountsAs()?.ToString() ?? "TotalNitrogen").Where(group => group.Count() > 1))
        {
            var lines = group.ToList();
            var low = lines.Max(line => (line.Percent - line.RoundingPercent) * line.Form.ElementFraction());
            var high = lines.Min(line => (line.Percent + line.RoundingPercent) * line.Form.ElementFraction());
            // Two printed numbers of one thing agree when their rounding intervals meet; one per cent more for old factors in print.
            if (low > high * 1.01 + 1e-9)
            {
                var said = string.Join(" and ", lines.Select(line => $"{line.Form.Symbol()} {Say(line.Percent)} %"));
                problems.Add(InputProblem.Error(lines[0].Form.Words(), said, $"It is declared twice and the two do not agree: {said}. Keep the right one."));
            }
        }

        foreach (var group in label.Declarations.Where(line => line.Form.CountsAs() is not null).GroupBy(line => line.Form.CountsAs()!.Value))
        {
            var lines = group.ToList();
            var total = lines.Where(line => line is { Chelator: Chelator.None, WaterSoluble: false }).MinBy(line => line.RoundingPercent);
            foreach (var parts in new[] { lines.Where(line => line.Chelator != Chelator.None), lines.Where(line => line is { WaterSoluble: true, Chelator: Chelator.None }) })
            {
                var part = parts.Sum(line => line.Percent * line.Form.ElementFraction());
                var rounding = parts.Sum(line => line.RoundingPercent * line.Form.ElementFraction());
                if (total is not null && part > (total.Percent + total.RoundingPercent) * total.Form.ElementFraction() * 1.01 + rounding)
                {
                    problems.Add(InputProblem.Error(total.Form.Words(), Say(total.Percent), $"Its parts add to {Say(part / total.Form.ElementFraction())} %, more than the {Say(total.Percent)} % of the whole."));
                }
            }
        }
    }

    private static void CheckSum(Label label, List<InputProblem> problems)
    {
        var percent = LabelContents.Of(label).LeastKgPerKg() * 100;
        var rounding = label.Declarations.Sum(line => line.RoundingPercent);
        if (percent > 100 + rounding)
        {
            problems.Add(InputProblem.Error(
                "analysis", Say(percent), $"This label adds to {percent:0} %: the lightest ions and oxides that could carry what it declares outweigh the product. Look for a misread digit, or for element read as oxide."));
        }
        else if (percent > 100)
        {
            problems.Add(InputProblem.Warning("analysis", Say(percent), $"This label adds to {percent:0} %, which only rounding can explain."));
        }
    }

    internal static string Say(double value) => value.ToString("0.####", System.Globalization.CultureInfo.InvariantCulture);
}
