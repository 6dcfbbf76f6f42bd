using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Tests.Evidence.Survival;

/// <summary>The quick sums of the Cox model against a slow version written straight from the definitions, on drawn records with late entry, ties, strata and clusters.</summary>
public sealed class CoxRegressionTests
{
    [Theory]
    [InlineData(1, Ties.Efron, false)]
    [InlineData(2, Ties.Efron, true)]
    [InlineData(3, Ties.Breslow, false)]
    [InlineData(4, Ties.Breslow, true)]
    public void Robust_errors_agree_with_residuals_written_from_the_definition(int seed, Ties ties, bool strata)
    {
        var request = Draw(seed, ties, strata);
        var fit = CoxRegression.Fit(request);
        var slow = new SlowCox(request, [.. fit.Coefficients.Select(c => c.Value!.Value)]);
        var robust = slow.RobustErrors();
        for (var j = 0; j < robust.Length; j++)
        {
            fit.Coefficients[j].RobustError.ShouldNotBeNull().ShouldBe(robust[j], 1e-8 * robust[j]);
        }
    }

    [Theory]
    [InlineData(1, TimeScale.KaplanMeier)]
    [InlineData(2, TimeScale.Identity)]
    [InlineData(3, TimeScale.Log)]
    public void The_check_of_proportional_hazards_is_the_score_test_of_covariate_times_time(int seed, TimeScale scale)
    {
        var request = Draw(seed, Ties.Efron, false) with { Check = scale };
        var fit = CoxRegression.Fit(request);
        var slow = new SlowCox(request, [.. fit.Coefficients.Select(c => c.Value!.Value)]);
        fit.Proportionality[^1].Name.ShouldBe("GLOBAL");
        fit.Proportionality[^1].ChiSquare.ShouldBe(slow.ScoreOfTime(scale), 1e-6 * Math.Max(1, fit.Proportionality[^1].ChiSquare));
    }

    [Fact]
    public void A_hazard_ratio_that_turns_with_time_is_noticed()
    {
        // x does harm early and good late.
        var random = new Random(11);
        var x = Enumerable.Range(0, 400).Select(_ => random.Next(2) * 1.0).ToArray();
        var exit = x.Select(v => Math.Round(v == 1 ? (random.NextDouble() < 0.5 ? 10 * random.NextDouble() : 200 + 100 * random.NextDouble()) : 20 + 180 * random.NextDouble(), 3)).ToArray();
        var fit = CoxRegression.Fit(new CoxRequest { Exit = exit, Ended = [.. exit.Select(_ => true)], Names = ["x"], Covariates = [x], Check = TimeScale.KaplanMeier });
        fit.Proportionality[0].P.ShouldBeLessThan(1e-6);
    }

    [Theory]
    [InlineData(21)]
    [InlineData(22)]
    [InlineData(23)]
    public void Lives_in_steps_give_the_same_as_their_rows_written_out(int seed)
    {
        const double Step = 15;
        const int ProfilesOfPlant = 40;
        var random = new Random(seed);
        double[][] covariates = [.. Enumerable.Range(0, 3).Select(j => Enumerable.Range(0, 12 * ProfilesOfPlant).Select(_ => j == 2 ? random.Next(2) : j == 1 && random.Next(8) == 0 ? double.NaN : random.NextDouble()).ToArray())];
        var lives = Enumerable.Range(0, 300).Select(_ =>
        {
            // Whole and half days, so that losses tie and some leaves end with a step.
            var (plant, born, length) = (random.Next(12), random.Next(2 * 100) / 2.0, 1 + random.Next(2 * 400) / 2.0);
            return new SteppedLife(length, random.Next(3) > 0, (Math.Floor(born / Step) + 1) * Step - born, plant * ProfilesOfPlant + (int)Math.Floor(born / Step), plant % 2, plant);
        }).ToList();
        List<(double Entry, double Exit, bool Ended, int Profile, int Stratum, int Cluster)> rows = [];
        foreach (var life in lives)
        {
            var (from, to, at) = (double.NegativeInfinity, life.FirstStep, life.Profile);
            for (; to < life.Length; (from, to, at) = (to, to + Step, at + 1))
            {
                rows.Add((from, to, false, at, life.Stratum, life.Cluster));
            }

            rows.Add((from, life.Length, life.Ended, at, life.Stratum, life.Cluster));
        }

        // What is not known stands at the mean of the rows in which it is.
        var mean = rows.Select(row => covariates[1][row.Profile]).Where(value => !double.IsNaN(value)).Average();
        var written = CoxRegression.Fit(new CoxRequest
        {
            Entry = [.. rows.Select(row => row.Entry)],
            Exit = [.. rows.Select(row => row.Exit)],
            Ended = [.. rows.Select(row => row.Ended)],
            Names = ["a", "b", "c"],
            Covariates = [.. covariates.Select(column => rows.Select(row => double.IsNaN(column[row.Profile]) ? mean : column[row.Profile]).ToArray())],
            Strata = [.. rows.Select(row => row.Stratum)],
            Clusters = [.. rows.Select(row => row.Cluster)],
            Check = TimeScale.KaplanMeier,
        });

        var walked = CoxRegression.Fit(new CoxLives { StepLength = Step, Lives = lives, Names = ["a", "b", "c"], Covariates = covariates, ByCluster = true, Check = TimeScale.KaplanMeier });

        (walked.N, walked.Events).ShouldBe((written.N, written.Events));
        walked.N.ShouldBe(rows.Count);
        walked.LogLikelihood!.Value.ShouldBe(written.LogLikelihood!.Value, 1e-8);
        for (var j = 0; j < 3; j++)
        {
            walked.Coefficients[j].Value!.Value.ShouldBe(written.Coefficients[j].Value!.Value, 1e-8);
            walked.Coefficients[j].StandardError!.Value.ShouldBe(written.Coefficients[j].StandardError!.Value, 1e-8);
            walked.Coefficients[j].RobustError!.Value.ShouldBe(written.Coefficients[j].RobustError!.Value, 1e-8);
        }

        for (var k = 0; k < 4; k++)
        {
            walked.Proportionality[k].ChiSquare.ShouldBe(written.Proportionality[k].ChiSquare, 1e-7);
        }
    }

    [Fact]
    public void A_covariate_that_only_varies_where_no_leaf_lived_says_nothing()
    {
        var lives = Enumerable.Range(0, 20).Select(i => new SteppedLife(5 + i, i % 2 == 0, 10, 0, 0, i)).ToList();
        var fit = CoxRegression.Fit(new CoxLives { StepLength = 15, Lives = lives, Names = ["x"], Covariates = [[1, 1, 7]] });
        fit.Coefficients[0].Value.ShouldBeNull();
        fit.Coefficients[0].Cannot!.ShouldContain("never varies");
    }

    [Fact]
    public void A_life_cut_into_intervals_gives_the_same_as_the_life_whole()
    {
        var whole = Draw(5, Ties.Efron, false) with { Entry = null, Clusters = null };
        List<double> entry = [], exit = [];
        List<bool> ended = [];
        List<double>[] columns = [[], []];
        for (var i = 0; i < whole.Exit.Length; i++)
        {
            double[] cuts = [double.NegativeInfinity, .. new[] { 4.5, 9.5 }.Where(cut => cut < whole.Exit[i]), whole.Exit[i]];
            for (var k = 1; k < cuts.Length; k++)
            {
                entry.Add(cuts[k - 1]);
                exit.Add(cuts[k]);
                ended.Add(k == cuts.Length - 1 && whole.Ended[i]);
                columns[0].Add(whole.Covariates[0][i]);
                columns[1].Add(whole.Covariates[1][i]);
            }
        }

        var cut = whole with { Entry = [.. entry], Exit = [.. exit], Ended = [.. ended], Covariates = [[.. columns[0]], [.. columns[1]]] };
        var (a, b) = (CoxRegression.Fit(whole), CoxRegression.Fit(cut));
        b.LogLikelihood!.Value.ShouldBe(a.LogLikelihood!.Value, 1e-9 * Math.Abs(a.LogLikelihood.Value));
        b.Coefficients[0].Value!.Value.ShouldBe(a.Coefficients[0].Value!.Value, 1e-8);
    }

    [Fact]
    public void Without_ties_the_three_rules_agree()
    {
        var random = new Random(7);
        var x = Enumerable.Range(0, 60).Select(_ => random.NextDouble()).ToArray();
        var exit = x.Select(v => -Math.Log(random.NextDouble()) * Math.Exp(-v)).ToArray();
        var request = new CoxRequest { Exit = exit, Ended = [.. exit.Select((_, i) => i % 4 != 0)], Names = ["x"], Covariates = [x] };
        var efron = CoxRegression.Fit(request).Coefficients[0].Value!.Value;
        CoxRegression.Fit(request with { Ties = Ties.Breslow }).Coefficients[0].Value!.Value.ShouldBe(efron, 1e-9);
        CoxRegression.Fit(request with { Ties = Ties.Exact }).Coefficients[0].Value!.Value.ShouldBe(efron, 1e-8);
    }

    [Fact]
    public void The_score_test_of_one_binary_covariate_without_ties_is_the_log_rank_test()
    {
        var random = new Random(3);
        var lives = Enumerable.Range(0, 50).Select(i => Lifetime.FromStart(random.NextDouble() + 0.01 * i, random.Next(3) > 0, i % 2 == 0 ? "a" : "b")).ToList();
        var fit = CoxRegression.Fit(new CoxRequest { Exit = [.. lives.Select(l => l.Exit)], Ended = [.. lives.Select(l => l.Ended)], Names = ["b"], Covariates = [[.. lives.Select(l => l.Group == "b" ? 1.0 : 0)]] });
        fit.Score!.Value.ShouldBe(LogRank.Compare(lives).ChiSquare!.Value, 1e-9);
    }

    private static CoxRequest Draw(int seed, Ties ties, bool strata)
    {
        var random = new Random(seed);
        const int n = 120;
        var cluster = Enumerable.Range(0, n).Select(i => i / 6).ToArray();
        var frailty = Enumerable.Range(0, n / 6 + 1).Select(_ => 0.5 * random.NextDouble()).ToArray();
        double[][] x = [[.. cluster.Select(_ => random.NextDouble() * 3)], [.. cluster.Select(_ => random.Next(2) * 1.0)]];
        var entry = cluster.Select(_ => Math.Floor(random.NextDouble() * 4)).ToArray();
        var exit = entry.Select((e, i) => e + 1 + Math.Floor(-12 * Math.Log(random.NextDouble()) * Math.Exp(-0.4 * x[0][i] + 0.5 * x[1][i] - frailty[cluster[i]]))).ToArray();
        return new CoxRequest
        {
            Entry = entry,
            Exit = exit,
            Ended = [.. exit.Select(_ => random.Next(5) > 0)],
            Names = ["x", "y"],
            Covariates = x,
            Clusters = cluster,
            Strata = strata ? [.. cluster.Select(c => c % 3)] : null,
            Ties = ties,
        };
    }
}
