using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class PairedMethod : IEvidenceMethod
{
    public string Name => "paired";

    public string Summary => "Before and after on the same plants: paired t, Wilcoxon signed ranks, sign test.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("before", "column: before, or the first treatment", "before"),
        new("after", "column: after, or the second treatment", "after"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var (before, after) = (run.Need("before", "before"), run.Need("after", "after"));
        run.KeepComplete(before, after);
        var group = run.Text("label") ?? $"{after}-{before}";
        var first = run.Table.Numbers(before);
        var result = Paired.Compare([.. run.Table.Numbers(after).Select((x, i) => x - first[i])]);
        var why = result.Cannot;
        run.Add("paired t", group, "mean_diff", result.MeanDifference);
        run.Add("paired t", group, "t", result.T, why);
        run.Add("paired t", group, "df", result.T is null ? null : result.Df, why);
        run.Add("paired t", group, "p", result.P, why);
        run.Add("paired t", group, "lower95", result.Lower95, why);
        run.Add("paired t", group, "upper95", result.Upper95, why);
        run.Add("Wilcoxon signed-rank", group, "V", result.SignedRank);
        run.Add("Wilcoxon signed-rank", group, "n_nonzero", result.NonZero);
        run.Add("Wilcoxon signed-rank", group, "p_exact_two_sided", result.SignedRankP, result.SignedRankP is null ? "no pair differs" : null);
        run.Add("sign test", group, "positive", result.Positive);
        run.Add("sign test", group, "p", result.SignP, result.SignP is null ? "no pair differs" : null);
        run.Say(why ?? FormattableString.Invariant($"Mean difference {result.MeanDifference:0.###} ({result.Lower95:0.###} to {result.Upper95:0.###}) over {result.N} pairs. ") + SurvivalWords.Chance(result.P!.Value));
        run.Assume("Nothing else changed between before and after; the season alone can make such a difference.");
        return run.Answer();
    }
}

internal sealed class PermutationMethod : IEvidenceMethod
{
    public string Name => "permutation";

    public string Summary => "Two arms dealt by a draw, or pairs with a draw in each: the difference against all that the draw could have done.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("value", "column: the outcome (two arms)", "value"),
        new("group", "column: the arm, two values (two arms)", "group"),
        new("before", "column: first of the pair (pairs)", "before"),
        new("after", "column: second of the pair (pairs)", "after"),
        new("seed", "seed, where there are too many arrangements to go through", "1"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var seed = run.Whole("seed", 1);
        if (run.Column("before", "before") is { } before && run.Column("after", "after") is { } after)
        {
            run.KeepComplete(before, after);
            var first = run.Table.Numbers(before);
            var group = run.Text("label") ?? $"{after}-{before}";
            Write(run, "sign-flip permutation", group, "mean_diff", Permutation.SignFlips([.. run.Table.Numbers(after).Select((x, i) => x - first[i])], seed));
            run.Assume("Which of each pair came first was drawn.");
            return run.Answer();
        }

        var value = run.Need("value", "value");
        var arm = run.Need("group", "group");
        run.KeepComplete(value, arm);
        var arms = run.Table.Texts(arm);
        var names = arms.Distinct().ToArray();
        if (names.Length != 2)
        {
            throw new EvidenceInputException("--group", string.Join(", ", names), "two arms (choose with --where)");
        }

        var values = run.Table.Numbers(value);
        double[] Of(string name) => [.. values.Where((_, i) => arms[i] == name)];
        Write(run, "permutation diff of means", $"{names[0]} minus {names[1]}", "diff", Permutation.DifferenceOfMeans(Of(names[0]), Of(names[1]), seed));
        Write(run, "permutation diff of means", $"{names[1]} minus {names[0]}", "diff", Permutation.DifferenceOfMeans(Of(names[1]), Of(names[0]), seed));
        run.Assume("The arms were drawn at random.");
        return run.Answer();
    }

    private static void Write(MethodRun run, string method, string group, string difference, PermutationResult result)
    {
        var note = result.Exact ? null : "a random sample of the arrangements";
        run.Add(method, group, difference, result.Difference);
        run.Add(method, group, "n_arrangements", result.Arrangements, note);
        run.Add(method, group, "count_two_sided", result.AtLeastAsLarge, note);
        run.Add(method, group, "p_two_sided", result.TwoSided, note);
        run.Add(method, group, "p_greater", result.Greater, note);
        run.Add(method, group, "p_less", result.Less, note);
        run.Say(result.Exact && result.Arrangements < 20
            ? $"The draw had only {result.Arrangements} ways to fall, so no difference, however large, could be told from chance with any strength."
            : FormattableString.Invariant($"{group}: {result.Difference:0.###}. ") + SurvivalWords.Chance(result.TwoSided));
    }
}

internal sealed class MultipleMethod : IEvidenceMethod
{
    public string Name => "multiple";

    public string Summary => "Several questions at once: p-values adjusted by Benjamini–Hochberg, Benjamini–Yekutieli, Holm and Bonferroni.";

    public IReadOnlyList<MethodOption> Options { get; } = [new("p", "column: p-values", "p"), new("alpha", "the level judged at", "0.05")];

    public EvidenceAnswer Run(MethodRun run)
    {
        var column = run.Need("p", "p");
        run.KeepComplete(column);
        var p = run.Table.Numbers(column);
        var alpha = run.Numbers("alpha", [0.05])[0];
        foreach (var (name, correction) in new[] { ("BH", Correction.BenjaminiHochberg), ("BY", Correction.BenjaminiYekutieli), ("holm", Correction.Holm), ("bonferroni", Correction.Bonferroni) })
        {
            var adjusted = Multiplicity.Adjust(p, correction);
            for (var i = 0; i < p.Length; i++)
            {
                run.Add("p.adjust " + name, $"p[{i + 1}]={MethodRun.Print(p[i])}", "adjusted", adjusted[i]);
            }

            var rejected = adjusted.Count(value => value <= alpha);
            run.Add("p.adjust " + name, "all", $"rejected_at_{MethodRun.Print(alpha)}", rejected);
            if (correction == Correction.BenjaminiHochberg)
            {
                run.Say(FormattableString.Invariant($"Of {p.Length} questions {rejected} stand at {alpha} once it is counted that {p.Length} were asked (Benjamini–Hochberg)."));
            }
        }

        return run.Answer();
    }
}
