namespace Rootwater.Growing.Evidence.Causes;

/// <summary>One cause on the sheet.</summary>
public sealed record RankedCause
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    /// <summary>Its share of the chances, all causes summing to 1.</summary>
    public required double Share { get; init; }

    /// <summary>What speaks for it, strongest first.</summary>
    public required IReadOnlyList<Reason> For { get; init; }

    /// <summary>What speaks against it, strongest first.</summary>
    public required IReadOnlyList<Reason> Against { get; init; }

    public required string WhatToDo { get; init; }

    public required string WhatNotToDo { get; init; }

    public required bool Contagious { get; init; }
}

/// <summary>A reason for or against a cause.</summary>
/// <param name="Words">What was seen or recorded.</param>
/// <param name="Ratio">How many times likelier (or, below 1, less likely) it makes this cause beside the others.</param>
/// <param name="FromLedger">True where the records say it, false where it was looked at.</param>
/// <param name="Basis">"published", "practice" or "judgement".</param>
/// <param name="Source">Where it is written; null for judgement.</param>
public sealed record Reason(string Words, double Ratio, bool FromLedger, string Basis, string? Source);

/// <summary>Something worth looking at next.</summary>
/// <param name="Clue">The clue.</param>
/// <param name="Bits">How much of the doubt it takes away on average, bits.</param>
/// <param name="BitsPerMinute">The same for its effort: the order of the list.</param>
public sealed record NextCheck(CauseClue Clue, double Bits, double BitsPerMinute);

/// <summary>Ranked causes with reasons, next checks and what not to do.</summary>
public sealed record CauseSheetResult
{
    /// <summary>Likeliest first.</summary>
    public required IReadOnlyList<RankedCause> Causes { get; init; }

    /// <summary>Most doubt taken away per minute first; empty when everything was looked at.</summary>
    public required IReadOnlyList<NextCheck> NextChecks { get; init; }

    /// <summary>Clues the records answered: value by clue.</summary>
    public required IReadOnlyDictionary<string, string> FromLedger { get; init; }

    /// <summary>The summary for the grower.</summary>
    public required IReadOnlyList<string> Words { get; init; }

    /// <summary>Why it should be kept apart; null where nothing contagious is plausible.</summary>
    public string? Quarantine { get; init; }

    /// <summary>Where looking is not enough and a test or a clinic has to decide; null otherwise.</summary>
    public string? Clinic { get; init; }

    /// <summary>What this is not.</summary>
    public string Caution => "This ranks guesses by what is seen and recorded. It helps decide what to look at next; it does not diagnose.";
}

/// <summary>
/// The cause sheet: each cause's prior times the chance of every clue under it (clues taken as independent given the cause). Because they are not quite, no clue may count for more than a factor of
/// <see cref="MostPerClue"/> either way.
/// </summary>
public static class CauseSheet
{
    /// <summary>A contagious cause at or above this share asks for keeping apart.</summary>
    public const double QuarantineShare = 0.1;

    /// <summary>The most one clue that was looked at may count, up or down, against its background.</summary>
    public const double MostPerClue = 20;

    /// <summary>The most one word of the ledger may count: more than a look, because some of it is knowledge (its kind keeps its leaves at rest).</summary>
    public const double MostPerRecord = 100;

    /// <summary>All causes, one class each.</summary>
    public static IReadOnlyList<ICause> Causes { get; } =
    [
        new Ageing(), new RestShedding(),
        new NitrogenShort(), new PhosphorusShort(), new PotassiumShort(), new MagnesiumShort(), new SulfurShort(), new CalciumShort(), new BoronShort(), new IronShort(), new ManganeseShort(), new ZincShort(), new CopperShort(), new MolybdenumShort(),
        new NitrogenExcess(), new AmmoniumExcess(), new PhosphorusExcess(), new PotassiumExcess(), new CalciumExcess(), new MagnesiumExcess(), new SulfurExcess(),
        new IronExcess(), new ManganeseExcess(), new ZincExcess(), new CopperExcess(), new BoronExcess(), new MolybdenumExcess(), new SodiumExcess(), new ChlorideExcess(),
        new SaltBurn(), new RootLoss(), new Thirst(), new ColdDamage(), new Sunburn(), new BudBlast(),
        new BacterialRot(), new BlackRot(), new Fusarium(), new Virus(),
        new Mites(), new ScaleInsects(), new Thrips(), new Mealybugs(),
    ];

    /// <summary>Ranks the causes.</summary>
    /// <param name="records">What the ledger knows.</param>
    /// <param name="seen">What was looked at: value by clue, ids as in <see cref="CauseTables.Clues"/>. Goes before what the records answer.</param>
    /// <exception cref="EvidenceInputException">A clue or value that is not in the table.</exception>
    public static CauseSheetResult Make(CauseRecords records, IReadOnlyDictionary<string, string> seen)
    {
        var answers = Answers(records, seen);
        var weights = new double[Causes.Count];
        var reasons = Causes.Select(_ => new List<Reason>()).ToArray();
        for (var c = 0; c < weights.Length; c++)
        {
            weights[c] = Causes[c].Prior;
            foreach (var (clue, value, fromLedger) in answers)
            {
                var background = clue.Values.First(each => each.Id == value).Background;
                weights[c] *= Capped(Causes[c].Likelihood(clue.Id, value) / background);
            }

            foreach (var each in Causes[c].FromRecords(records).Where(each => each.Ratio != 1))
            {
                weights[c] *= Math.Clamp(each.Ratio, 1 / MostPerRecord, MostPerRecord);
                reasons[c].Add(new Reason(each.Words, each.Ratio, true, "judgement", null));
            }
        }

        var total = weights.Sum();
        var shares = weights.Select(weight => weight / total).ToArray();
        Explain(answers, shares, reasons);
        var ranked = Enumerable.Range(0, shares.Length).OrderByDescending(c => shares[c]).Select(c => Ranked(Causes[c], shares[c], reasons[c])).ToList();
        var checks = Checks(answers, shares);
        return new CauseSheetResult
        {
            Causes = ranked,
            NextChecks = checks,
            FromLedger = answers.Where(answer => answer.FromLedger).ToDictionary(answer => answer.Clue.Id, answer => answer.Value),
            Words = Words(ranked, checks, answers.Count == 0),
            Quarantine = Quarantine(ranked),
            Clinic = ranked.Where(cause => cause.Id is "virus" or "fusarium" or "bacterial-rot" or "black-rot" && cause.Share >= QuarantineShare && !(cause.Id == "virus" && answers.Exists(answer => answer.Clue.Id == "strip-test"))).Select(cause => $"{Capital(cause.Name)} is not told by eye: a test or a plant clinic decides.").FirstOrDefault(),
        };
    }

    private static List<(CauseClue Clue, string Value, bool FromLedger)> Answers(CauseRecords records, IReadOnlyDictionary<string, string> seen)
    {
        var answers = new List<(CauseClue, string, bool)>();
        foreach (var (clue, value) in seen)
        {
            answers.Add(Known(clue, value, false));
        }

        foreach (var (clue, value) in records.Answers().Where(answer => !seen.ContainsKey(answer.Clue)).DistinctBy(answer => answer.Clue))
        {
            answers.Add(Known(clue, value, true));
        }

        return answers;

        static (CauseClue, string, bool) Known(string clue, string value, bool fromLedger)
        {
            var found = CauseTables.Clue(clue);
            return found.Values.Any(each => each.Id == value) ? (found, value, fromLedger) : throw new EvidenceInputException(clue, value, "one of " + string.Join(", ", found.Values.Select(each => each.Id)));
        }
    }

    /// <summary>How much likelier each answer is under a cause than under the others, weighed by their shares.</summary>
    private static void Explain(List<(CauseClue Clue, string Value, bool FromLedger)> answers, double[] shares, List<Reason>[] reasons)
    {
        foreach (var (clue, value, fromLedger) in answers)
        {
            var words = clue.Values.First(each => each.Id == value).Words;
            var likelihoods = Causes.Select(cause => cause.Likelihood(clue.Id, value)).ToArray();
            var all = 0.0;
            for (var c = 0; c < shares.Length; c++)
            {
                all += shares[c] * likelihoods[c];
            }

            for (var c = 0; c < shares.Length; c++)
            {
                var others = (all - shares[c] * likelihoods[c]) / Math.Max(1e-12, 1 - shares[c]);
                var ratio = Capped(likelihoods[c] / Math.Max(1e-12, others));
                if (ratio is > 1.15 or < 0.87)
                {
                    var source = CauseTables.SourceOf(Causes[c].Id, clue.Id, value);
                    reasons[c].Add(new Reason(words, ratio, fromLedger, source?.Basis ?? "judgement", source?.Source));
                }
            }
        }
    }

    private static RankedCause Ranked(ICause cause, double share, List<Reason> reasons)
    {
        var facts = CauseTables.Facts[cause.Id];
        return new RankedCause
        {
            Id = cause.Id,
            Name = facts.Name,
            Share = share,
            For = [.. reasons.Where(reason => reason.Ratio > 1).OrderByDescending(reason => reason.Ratio)],
            Against = [.. reasons.Where(reason => reason.Ratio < 1).OrderBy(reason => reason.Ratio)],
            WhatToDo = facts.WhatToDo,
            WhatNotToDo = facts.WhatNotToDo,
            Contagious = facts.Contagious,
        };
    }

    private static List<NextCheck> Checks(List<(CauseClue Clue, string Value, bool FromLedger)> answers, double[] shares)
    {
        var checks = new List<NextCheck>();
        foreach (var clue in CauseTables.Clues.Where(clue => !answers.Exists(answer => answer.Clue.Id == clue.Id)))
        {
            // Doubt taken away on average: entropy of the answer less its entropy once the cause is known.
            var bits = 0.0;
            foreach (var value in clue.Values)
            {
                var likelihoods = Causes.Select(cause => cause.Likelihood(clue.Id, value.Id)).ToArray();
                var all = 0.0;
                for (var c = 0; c < shares.Length; c++)
                {
                    all += shares[c] * likelihoods[c];
                }

                for (var c = 0; c < shares.Length; c++)
                {
                    if (likelihoods[c] > 0 && all > 0)
                    {
                        bits += shares[c] * likelihoods[c] * Math.Log2(likelihoods[c] / all);
                    }
                }
            }

            checks.Add(new NextCheck(clue, Math.Max(0, bits), Math.Max(0, bits) / clue.EffortMinutes));
        }

        return [.. checks.OrderByDescending(check => check.BitsPerMinute)];
    }

    private static List<string> Words(List<RankedCause> ranked, List<NextCheck> checks, bool nothingSeen)
    {
        if (nothingSeen)
        {
            return ["Nothing was looked at yet: what stands here is only how often each cause occurs.", $"First: {checks[0].Clue.Question}"];
        }

        var words = new List<string>();
        var first = ranked[0];
        var reasons = string.Join(", ", first.For.Take(3).Select(reason => reason.Words));
        words.Add(FormattableString.Invariant($"Likeliest: {first.Name} ({100 * first.Share:0} %){(reasons.Length > 0 ? ": " + reasons : "")}."));
        var rest = ranked.Skip(1).Where(cause => cause.Share >= 0.05).Take(2).ToList();
        if (rest.Count > 0)
        {
            words.Add("Then: " + string.Join(", ", rest.Select(cause => FormattableString.Invariant($"{cause.Name} ({100 * cause.Share:0} %)"))) + ".");
        }

        if (checks.Count > 0 && checks[0].Bits > 0.02)
        {
            words.Add("Next: " + string.Join(" Then: ", checks.Where(check => check.Bits > 0.02).Take(2).Select(check => check.Clue.Question)));
        }

        words.Add(first.WhatNotToDo);
        return words;
    }

    private static string? Quarantine(List<RankedCause> ranked)
    {
        var plausible = ranked.Where(cause => cause.Contagious && cause.Share >= QuarantineShare / 2).ToList();
        return plausible.Sum(cause => cause.Share) >= QuarantineShare
            ? $"Keep it apart until known: {string.Join(" or ", plausible.Select(cause => cause.Name))} could go over to others."
            : null;
    }

    private static double Capped(double ratio) => Math.Clamp(ratio, 1 / MostPerClue, MostPerClue);

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
