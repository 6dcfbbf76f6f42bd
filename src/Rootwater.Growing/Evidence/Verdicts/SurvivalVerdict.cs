using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Series;
using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Verdicts;

/// <summary>Have leaves been kept better: since a change, or in one arm than in the other? Curves, a sentence with its strength, and what else changed.</summary>
public static class SurvivalVerdict
{
    /// <summary>Days to either side of a change in which another change is listed beside it.</summary>
    public const double Nearby = 60;

    /// <summary>Up to so many losses the exact test stands beside the log-rank test, and the larger p counts.</summary>
    private const int FewLosses = 60;

    /// <summary>
    /// Before and after a day, each plant its own control: leaves are cut at that day and compared at the same age within each plant (stratified log-rank test; hazard ratio by the
    /// Cox model with plants as strata, robust by plant where there are ten or more).
    /// </summary>
    /// <param name="question">What is asked, for the heading.</param>
    /// <param name="leaves">All leaves under watch at any time.</param>
    /// <param name="changeDay">Day number of the change.</param>
    /// <param name="today">Day number of today, for how long it has been watched since.</param>
    /// <param name="others">What else the ledger knows to have changed.</param>
    /// <param name="losing">What the chance is of, in words.</param>
    public static Verdict BeforeAndAfter(string question, IReadOnlyList<LeafLife> leaves, double changeDay, double today, IReadOnlyList<OtherChange>? others = null, string losing = "losing a leaf")
    {
        var lives = Split(leaves, changeDay);
        var near = (others ?? []).Where(other => Math.Abs(other.Day - changeDay) <= Nearby).Select(other => FormattableString.Invariant($"{other.What}{(other.Plant is null ? "" : $" ({other.Plant})")}, {Math.Abs(other.Day - changeDay):0} days {(other.Day < changeDay ? "before" : other.Day > changeDay ? "after" : "(the same day)")}")).ToList();
        var test = LogRank.Compare([.. lives.Select(each => each.Life)], stratified: true);
        var verdict = Start(question, leaves, lives, "log-rank test stratified by plant (with at most 60 losses its exact form beside it, the larger p counts); hazard ratio by Cox with plants as strata", near) with
        {
            Assumptions =
            [
                "A leaf's chance of loss depends on its age and its plant, and changed for no other reason than the one asked about.",
                "Seasons weigh alike before and after: only so if both cover whole years.",
                SurvivalWords.NonInformative,
            ],
        };
        if (test.Cannot is { } cannot)
        {
            return verdict with { Strength = Strength.CannotTell, Words = cannot };
        }

        if (Burst(leaves, lives) is { } burst)
        {
            return verdict with { Strength = Strength.CannotTell, Words = burst };
        }

        var ratio = Ratio(lives, byPlant: true);
        // With few losses the chi-square of the log-rank test promises too much: the exact sum has the last word.
        var p = Math.Max(test.P!.Value, verdict.Events <= FewLosses && ExactLogRank.P([.. lives.Select(each => each.Life)], "since") is { } exact ? exact : 0);
        var rate = lives.Count(each => each.Life.Ended) / Math.Max(1, YearsWatched(leaves, today));
        return Finish(verdict, ratio, p, "since the change", "before", drawn: false, rate, p <= 0.05 ? 1 : (double?)null, losing);
    }

    /// <summary>Two arms of plants. With the arms drawn at random the test is a permutation of plants by their log-rank scores; the level can be that of a planned look.</summary>
    /// <param name="question">What is asked.</param>
    /// <param name="first">Leaves of the first arm (the one compared with).</param>
    /// <param name="second">Leaves of the second arm.</param>
    /// <param name="names">Names of the two arms.</param>
    /// <param name="drawn">True where the program drew the arms.</param>
    /// <param name="today">Day number of today.</param>
    /// <param name="level">Claim a difference at this p: 0.05, or the nominal level of a planned look.</param>
    public static Verdict Arms(string question, IReadOnlyList<LeafLife> first, IReadOnlyList<LeafLife> second, (string First, string Second) names, bool drawn, double today, double level = 0.05)
    {
        var lives = first.Select(leaf => (leaf.Plant, Life: Life(leaf, "1"))).Concat(second.Select(leaf => (leaf.Plant, Life: Life(leaf, "2")))).ToList();
        IReadOnlyList<LeafLife> leaves = [.. first, .. second];
        var verdict = Start(question, leaves, lives, "permutation of plants by log-rank scores; hazard ratio by Cox, errors robust by plant", []) with
        {
            Assumptions = [drawn ? "The arms were drawn at random." : "The arms differ only in what is compared; they were not drawn at random.", SurvivalWords.NonInformative],
        };
        if (!lives.Any(each => each.Life.Ended))
        {
            return verdict with { Strength = Strength.CannotTell, Words = "Nothing was lost in either arm so far: good news, and it says nothing yet about a difference." };
        }

        if (Burst(leaves, lives) is { } burst)
        {
            return verdict with { Strength = Strength.CannotTell, Words = burst };
        }

        var scores = PlantScores.Of(lives);
        double[] Of(IReadOnlyList<LeafLife> arm) => [.. arm.Select(leaf => leaf.Plant).Distinct().Select(plant => scores[plant])];
        var (a, b) = (Of(first), Of(second));
        if (PlantScores.Smallest(a.Length, b.Length) is var least && least > level)
        {
            return verdict with { Strength = Strength.CannotTell, Words = FormattableString.Invariant($"With {a.Length} and {b.Length} plants even the clearest difference would come by chance one time in {1 / least:0}; whatever is seen, it cannot be told from chance."), WhatItWouldTake = "Four plants in each arm are the least for a test at 0.05." };
        }

        if (PlantScores.Permute(a, b) is not { } p)
        {
            return verdict with { Strength = Strength.CannotTell, Words = "The plants do not differ in a way that could be tested." };
        }

        var rate = lives.Count(each => each.Life.Ended) / Math.Max(1, YearsWatched(leaves, today));
        return Finish(verdict, Ratio(lives, byPlant: false), p, names.Second, names.First, drawn, rate, p <= level ? 1 : (double?)null);
    }

    private static Verdict Start(string question, IReadOnlyList<LeafLife> leaves, IReadOnlyList<(string Plant, Lifetime Life)> lives, string method, IReadOnlyList<string> also) => new()
    {
        Question = question,
        Strength = Strength.CannotTell,
        Words = "",
        Method = method,
        Assumptions = [],
        Plants = leaves.Select(leaf => leaf.Plant).Distinct().Count(),
        Lives = leaves.Count,
        Events = lives.Count(each => each.Life.Ended),
        AlsoChanged = also,
    };

    private static Verdict Finish(Verdict verdict, (double Ratio, Interval95 Interval)? ratio, double p, string second, string first, bool drawn, double lossesPerYear, double? claimed, string losing = "losing a leaf")
    {
        var size = ratio is { } r
            ? FormattableString.Invariant($"the chance of {losing} {second} is {r.Ratio:0.##} times that {(first == "before" ? "before" : "with " + first)} ({r.Interval.Lower:0.##} to {r.Interval.Upper:0.##})")
            : "the two cannot be put as a ratio (all losses fell on one side)";
        var result = verdict with { P = p, HazardRatio = ratio?.Ratio, Interval = ratio?.Interval };
        if (claimed is null)
        {
            return result with
            {
                Strength = Strength.TooEarly,
                Words = $"Too early to tell: {size}. {SurvivalWords.Chance(p)}",
                WhatItWouldTake = Need(ratio?.Ratio, verdict.Events, lossesPerYear),
            };
        }

        var strength = p <= 0.001 ? Strength.Strong : p <= 0.01 ? Strength.Good : Strength.Hint;
        if (!drawn)
        {
            // Without a draw something else may be behind it: one step less, two where something else is known to have changed.
            strength = (Strength)Math.Max((int)Strength.Hint, (int)strength - (verdict.AlsoChanged.Count > 0 ? 2 : 1));
        }

        var words = strength switch { Strength.Strong => "Strong evidence", Strength.Good => "Good evidence", _ => "A hint, no more" };
        var why = drawn ? "" : verdict.AlsoChanged.Count > 0 ? " But something else changed at the same time, and these records cannot tell them apart." : " Not drawn at random: another reason cannot be ruled out.";
        return result with { Strength = strength, Words = $"{words}: {size}. {SurvivalWords.Chance(p)}{why}" };
    }

    /// <summary>Losses needed (Schoenfeld 1983: (1.96 + 0.84)² / (¼ log² ratio)) and the years until then at the present rate.</summary>
    private static string Need(double? ratio, int events, double lossesPerYear)
    {
        var assumed = ratio is { } r && Math.Abs(Math.Log(r)) > Math.Log(1.25) ? r : 0.5;
        var losses = Math.Pow(Tails.Z975 + 0.8416, 2) * 4 / Math.Pow(Math.Log(assumed), 2);
        var about = assumed == 0.5 && ratio != 0.5 ? "a halving" : "a difference of this size";
        if (losses <= events)
        {
            return $"{events} losses would as a rule be enough to see {about}; either it is smaller, or plants differ much.";
        }

        var years = (losses - events) / Math.Max(lossesPerYear, 1e-9);
        var when = lossesPerYear <= 0 ? "" : years < 1.5 ? FormattableString.Invariant($", about {Math.Ceiling(12 * years):0} months more at the present rate") : years < 50 ? FormattableString.Invariant($", about {Math.Ceiling(years):0} years more at the present rate") : ", more than a lifetime at the present rate: more plants, or a question with more events, would tell sooner";
        return FormattableString.Invariant($"To see {about} takes some {Math.Ceiling(losses):0} losses in all{when}.");
    }

    /// <summary>One happening is not a rate: all losses of several leaves on one day, or at one age.</summary>
    private static string? Burst(IReadOnlyList<LeafLife> leaves, IReadOnlyList<(string Plant, Lifetime Life)> lives)
    {
        var ages = lives.Where(each => each.Life.Ended).Select(each => each.Life.Exit).ToList();
        var days = leaves.Where(leaf => leaf.Lost).Select(leaf => leaf.LastDay).ToList();
        return days.Count > 1 && (days.Max() - days.Min() < 1 || ages.Max() - ages.Min() < 1e-9)
            ? $"All {days.Count} losses fell on one day or at one age: that is one happening, and no rate can be compared by it. What happened then is the question."
            : null;
    }

    private static double YearsWatched(IReadOnlyList<LeafLife> leaves, double today) => Math.Max(0.25, (today - leaves.Min(leaf => leaf.WatchedFromDay)) / 365.25);

    private static Lifetime Life(LeafLife leaf, string group) =>
        new(leaf.WatchedFromDay > leaf.BornDay ? leaf.WatchedFromDay - leaf.BornDay : double.NegativeInfinity, Math.Max(leaf.LastDay - leaf.BornDay, 0.5), leaf.Lost, group, leaf.Plant);

    private static List<(string Plant, Lifetime Life)> Split(IReadOnlyList<LeafLife> leaves, double change)
    {
        var lives = new List<(string, Lifetime)>();
        foreach (var leaf in leaves)
        {
            var life = Life(leaf, leaf.LastDay <= change ? "before" : "since");
            var age = change - leaf.BornDay;
            if (leaf.LastDay > change && age > Math.Max(0, life.Entry))
            {
                lives.Add((leaf.Plant, life with { Exit = age, Ended = false, Group = "before" }));
                lives.Add((leaf.Plant, life with { Entry = age }));
            }
            else
            {
                lives.Add((leaf.Plant, life));
            }
        }

        return lives;
    }

    private static (double Ratio, Interval95 Interval)? Ratio(IReadOnlyList<(string Plant, Lifetime Life)> lives, bool byPlant)
    {
        var plants = new Dictionary<string, int>();
        foreach (var (plant, _) in lives)
        {
            plants.TryAdd(plant, plants.Count);
        }

        var index = lives.Select(each => plants[each.Plant]).ToArray();
        var fit = CoxRegression.Fit(new CoxRequest
        {
            Entry = [.. lives.Select(each => each.Life.Entry)],
            Exit = [.. lives.Select(each => each.Life.Exit)],
            Ended = [.. lives.Select(each => each.Life.Ended)],
            Names = ["second"],
            Covariates = [[.. lives.Select(each => each.Life.Group is "2" or "since" ? 1.0 : 0)]],
            Strata = byPlant ? index : null,
            Clusters = plants.Count >= 10 ? index : null,
        });
        var effect = fit.Coefficients[0];
        if (effect.Value is not { } value || (effect.RobustError ?? effect.StandardError) is not { } se)
        {
            return null;
        }

        return (Math.Exp(value), new Interval95(Math.Exp(value - Tails.Z975 * se), Math.Exp(value + Tails.Z975 * se)));
    }
}
