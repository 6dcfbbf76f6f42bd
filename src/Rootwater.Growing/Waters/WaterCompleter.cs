using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Growing.Waters;

/// <summary>Makes a water report whole.</summary>
/// <remarks>
/// docs/science/waters.md. (1) Hardness gives calcium and magnesium. (2) Where every main ion is stated, the charge imbalance is shared out over them: each moves by
/// −z σ² D / Σσ² equivalents (least squares with σ 5 %), so the large and uncertain ones move most. (3) Where ions are missing, charge balance says how much of their sign is
/// missing, EC says how much of both signs, and <see cref="WaterSupposition"/> only divides it. (4) pH, or else the carbon dioxide supposed, gives dissolved carbon.
/// Bands come from drawing readings and suppositions at random, seeded, and repeating the whole.
/// </remarks>
public static class WaterCompleter
{
    private const int Draws = 60;

    // Standard Methods 1030 E accepts 5 % (0.2 meq/L in thin waters); beyond 10 % something is misread (from memory, and common practice).
    private const double SharedOutPercent = 10, SaidPercent = 5, ThinMeqPerLitre = 0.25;

    private static readonly WaterQuantity[] s_missingCations = [WaterQuantity.Calcium, WaterQuantity.Magnesium, WaterQuantity.Sodium, WaterQuantity.Potassium];
    private static readonly WaterQuantity[] s_missingAnions = [WaterQuantity.Chloride, WaterQuantity.Sulfate, WaterQuantity.Nitrate];

    /// <summary>Completes the report.</summary>
    /// <param name="report">Any subset of readings.</param>
    /// <param name="id">Of the source; a new one when null.</param>
    /// <param name="seed">Of the draws; the same seed gives the same bands.</param>
    public static CompletedWater Complete(WaterReport report, Guid? id = null, int seed = 1)
    {
        var problems = new List<InputProblem>();
        if (WaterFacts.Read(report, problems) is not { } facts)
        {
            return Failed(problems);
        }

        try
        {
            return Complete(report, facts, id, seed, problems);
        }
        catch (InvalidOperationException unsolved)
        {
            problems.Add(InputProblem.Error("report", null, $"The chemistry of this water could not be solved ({unsolved.Message}). Look for a reading that is far out."));
            return Failed(problems);
        }
    }

    private static CompletedWater Complete(WaterReport report, WaterFacts facts, Guid? id, int seed, List<InputProblem> problems)
    {
        var temperature = Temperature.FromCelsius(facts.Celsius ?? 25);
        var attempt = Attempt.Of(report, facts, new WaterSupposition(), problems);
        if (attempt is null || CarbonOf(report, facts, attempt.Water, temperature, problems) is not { } carbon)
        {
            return Failed(problems);
        }

        var totals = attempt.Water.MolPerKgWater(carbon, WaterCarbon.LitresPerKgWater);
        var solution = EquilibriumSolver.Solve(totals, new SolveConditions { Temperature = temperature }).Required();
        var ec = solution.ConductivityAt25MicrosiemensPerCm();
        var (values, draws) = Bands(report, facts, attempt, seed);
        SayWhatWasSupposed(facts, attempt, ec, problems);
        problems.AddRange(WaterSigns.Of(attempt.Water, facts.Celsius));
        return new CompletedWater
        {
            Source = new WaterSource
            {
                Id = id ?? Guid.CreateVersion7(),
                Name = report.Name.Trim(),
                MolPerKgWater = totals,
                RelativeUncertainty = UncertaintyOf(values),
                Doubts = WaterDoubts.Of(totals, [.. draws.Select(draw => draw.MolPerKgWater(Carbon(draw), WaterCarbon.LitresPerKgWater))]),
                Notes = [.. problems.Select(problem => problem.Message)],
            },
            Values = values,
            PH = solution.PH,
            EcMicrosiemensPerCm = ec,
            ChargeImbalancePercent = attempt.ImbalancePercent,
            Problems = problems,
        };

        // At the same pH dissolved carbon goes with the alkalinity.
        double Carbon(WaterGuess draw) => attempt.Water.AlkalinityMeqPerLitre > 0 ? carbon * Math.Max(0, draw.AlkalinityMeqPerLitre / attempt.Water.AlkalinityMeqPerLitre) : carbon;
    }

    private static CompletedWater Failed(List<InputProblem> problems) =>
        new() { Source = null, Values = [], PH = double.NaN, EcMicrosiemensPerCm = double.NaN, ChargeImbalancePercent = null, Problems = problems };

    private static double? CarbonOf(WaterReport report, WaterFacts facts, WaterGuess water, Temperature temperature, List<InputProblem> problems)
    {
        if (facts.PH is { } pH)
        {
            var (carbon, why) = WaterCarbon.AtPH(water, pH, temperature);
            if (carbon is null)
            {
                problems.Add(InputProblem.Error("pH", WaterFacts.Say(pH), why!));
            }

            return carbon;
        }

        var log10PCO2 = WaterCarbon.Log10PCO2Atmospheres(report.Origin);
        problems.Add(InputProblem.Note("pH", null, report.Origin == WaterOrigin.Ground
            ? "No pH is given. The water is supposed to hold carbon dioxide as ground water does (10^-2.5 atm); its pH may lie half a unit to either side."
            : "No pH is given. The water is supposed to be in balance with the air."));
        return WaterCarbon.AtPressure(water, log10PCO2, temperature);
    }

    private static (List<WaterValue> Values, List<WaterGuess> Draws) Bands(WaterReport report, WaterFacts facts, Attempt best, int seed)
    {
        var random = new Random(seed);
        var draws = new List<WaterGuess>();
        for (var i = 0; i < Draws; i++)
        {
            if (Attempt.Of(report, facts, WaterSupposition.Draw(random), [], random) is { } attempt)
            {
                draws.Add(attempt.Water);
            }
        }

        var values = new List<WaterValue>();
        foreach (var ion in WaterIon.All)
        {
            Add(ion.Quantity, water => water[ion.Quantity]);
        }

        Add(WaterQuantity.Alkalinity, water => water.AlkalinityMeqPerLitre);
        return ([.. values.OrderBy(value => value.Origin == WaterValueOrigin.Estimated)], draws);

        void Add(WaterQuantity quantity, Func<WaterGuess, double> read)
        {
            var value = read(best.Water);
            var sorted = draws.Select(read).Order().ToList();
            var low = sorted.Count == 0 ? value : Math.Min(value, sorted[sorted.Count / 20]);
            var high = sorted.Count == 0 ? value : Math.Max(value, sorted[sorted.Count - 1 - sorted.Count / 20]);
            if (value > 0 || high > 0 || best.Origins.ContainsKey(quantity))
            {
                values.Add(new WaterValue(quantity, value, low, high, best.Origins.GetValueOrDefault(quantity, WaterValueOrigin.Estimated)));
            }
        }
    }

    // One standard deviation of the whole, from the bands of the ions by their equivalents; a normal band of 90 % is 3.29 σ wide.
    private static double UncertaintyOf(IReadOnlyList<WaterValue> values)
    {
        double Equivalents(WaterValue value) => Math.Abs(WaterIon.Find(value.Quantity)?.Charge ?? 1);
        var sum = values.Sum(value => Equivalents(value) * Math.Abs(value.MmolPerLitre));
        var sigma = values.Sum(value => Equivalents(value) * (value.High - value.Low) / 3.29);
        return Math.Clamp(sum > 0 ? sigma / sum : 0.03, 0.03, 1);
    }

    private static void SayWhatWasSupposed(WaterFacts facts, Attempt attempt, double ecMicrosiemensPerCm, List<InputProblem> problems)
    {
        if (attempt.ImbalancePercent is { } percent && Math.Abs(percent) > SaidPercent)
        {
            problems.Add(InputProblem.Warning("charges", $"{percent:+0.#;-0.#} %", $"Cations and anions as reported differ by {Math.Abs(percent):0.#} % of their sum; the difference is shared out over all of them by their uncertainty."));
        }

        if (facts.HardnessMmolPerLitre is not null && !facts.MmolPerLitre.ContainsKey(WaterQuantity.Calcium) && !facts.MmolPerLitre.ContainsKey(WaterQuantity.Magnesium))
        {
            problems.Add(InputProblem.Note("hardness", null, "How hardness splits is not reported: three quarters of it are taken as calcium, one quarter as magnesium (between 1:1 and 9:1)."));
        }

        var estimated = attempt.Origins.Where(pair => pair.Value == WaterValueOrigin.Estimated).Select(pair => WaterFacts.Name(pair.Key)).ToList();
        if (estimated.Count > 0)
        {
            problems.Add(InputProblem.Note("missing ions", string.Join(", ", estimated), facts.MicrosiemensPerCm is null
                ? "Estimated from charge balance alone; an EC reading would narrow their bands."
                : "Estimated so that charges balance and the EC comes out as read; how they share it is supposed."));
        }

        if (facts.MicrosiemensPerCm is { } read && read > 20 && Math.Abs(ecMicrosiemensPerCm / read - 1) > 0.12)
        {
            problems.Add(InputProblem.Warning("EC", WaterFacts.Say(read), ecMicrosiemensPerCm > read
                ? $"What is reported makes {ecMicrosiemensPerCm:0} µS/cm, more than the {read:0} read. Check the EC pen's scale and the hardness and alkalinity drops."
                : $"What is reported makes {ecMicrosiemensPerCm:0} µS/cm, less than the {read:0} read: something dissolved is not in the report."));
        }
    }

    /// <summary>One way to fill the gaps.</summary>
    private sealed class Attempt
    {
        public required WaterGuess Water { get; init; }
        public required IReadOnlyDictionary<WaterQuantity, WaterValueOrigin> Origins { get; init; }
        public required double? ImbalancePercent { get; init; }

        public static Attempt? Of(WaterReport report, WaterFacts facts, WaterSupposition supposed, List<InputProblem> problems, Random? random = null)
        {
            // Shaking σ by a normal number draws the readings; without a random source they stand as read.
            double Shake(double value, double sigma) => random is null ? value : Math.Max(0, value + sigma * WaterSupposition.Normal(random));
            var water = new WaterGuess();
            var origins = new Dictionary<WaterQuantity, WaterValueOrigin>();
            foreach (var (quantity, mmolPerLitre) in facts.MmolPerLitre)
            {
                water[quantity] = Shake(mmolPerLitre, WaterFacts.IonRelativeSigma * mmolPerLitre);
                origins[quantity] = WaterValueOrigin.Measured;
            }

            if (!SplitHardness(facts, supposed, water, origins, problems, Shake))
            {
                return null;
            }

            if (facts.AlkalinityMeqPerLitre is { } alkalinity)
            {
                water.AlkalinityMeqPerLitre = Shake(alkalinity, facts.AlkalinitySigmaMeqPerLitre);
                origins[WaterQuantity.Alkalinity] = WaterValueOrigin.Measured;
            }

            var cations = s_missingCations.Where(quantity => !origins.ContainsKey(quantity)).ToList();
            var anions = s_missingAnions.Where(quantity => !origins.ContainsKey(quantity)).ToList();
            if (!origins.ContainsKey(WaterQuantity.Alkalinity))
            {
                anions.Insert(0, WaterQuantity.Alkalinity);
            }

            // Potassium and nitrate alone are too small to carry an imbalance between measured ions.
            var imbalance = water.ChargeMeqPerLitre;
            var fillCations = cations.Any(quantity => quantity != WaterQuantity.Potassium);
            var fillAnions = anions.Any(quantity => quantity != WaterQuantity.Nitrate);
            double? percent = null;
            if ((imbalance > 0 && !fillAnions) || (imbalance < 0 && !fillCations) || (!fillAnions && !fillCations))
            {
                percent = 100 * imbalance / Math.Max(water.SumMeqPerLitre, 1e-9);
                if (Math.Abs(percent.Value) > SharedOutPercent && Math.Abs(imbalance) > ThinMeqPerLitre && random is null)
                {
                    problems.Add(CannotBalance(water, imbalance, percent.Value));
                    return null;
                }

                ShareOut(water, origins, facts, imbalance);
            }

            Fill(water, fillCations ? cations : [], fillAnions ? anions : [], supposed, facts, origins, Shake);
            return new Attempt { Water = water, Origins = origins, ImbalancePercent = percent };
        }

        private static bool SplitHardness(WaterFacts facts, WaterSupposition supposed, WaterGuess water, Dictionary<WaterQuantity, WaterValueOrigin> origins, List<InputProblem> problems, Func<double, double, double> shake)
        {
            if (facts.HardnessMmolPerLitre is not { } reported)
            {
                return true;
            }

            var hardness = shake(reported, facts.HardnessSigmaMmolPerLitre);
            var (calcium, magnesium) = (origins.ContainsKey(WaterQuantity.Calcium), origins.ContainsKey(WaterQuantity.Magnesium));
            if (calcium && magnesium)
            {
                var sum = facts.MmolPerLitre[WaterQuantity.Calcium] + facts.MmolPerLitre[WaterQuantity.Magnesium];
                if (Math.Abs(sum - reported) > 0.1 * reported + 3 * facts.HardnessSigmaMmolPerLitre)
                {
                    problems.Add(InputProblem.Error("hardness", $"{WaterFacts.Say(reported)} mmol/L", $"Calcium and magnesium make {WaterFacts.Say(sum)} mmol/L. Leave out the hardness, or the one of them that is doubtful."));
                    return false;
                }
            }
            else if (calcium || magnesium)
            {
                var (known, other) = calcium ? (WaterQuantity.Calcium, WaterQuantity.Magnesium) : (WaterQuantity.Magnesium, WaterQuantity.Calcium);
                if (facts.MmolPerLitre[known] > reported * 1.1 + 3 * facts.HardnessSigmaMmolPerLitre)
                {
                    problems.Add(InputProblem.Error("hardness", $"{WaterFacts.Say(reported)} mmol/L", $"{WaterFacts.Name(known)} alone makes {WaterFacts.Say(facts.MmolPerLitre[known])} mmol/L, more than the hardness. Check the units of both."));
                    return false;
                }

                water[other] = Math.Max(0, hardness - water[known]);
                origins[other] = WaterValueOrigin.Derived;
            }
            else
            {
                water[WaterQuantity.Calcium] = hardness * supposed.CalciumShareOfHardness;
                water[WaterQuantity.Magnesium] = hardness - water[WaterQuantity.Calcium];
                origins[WaterQuantity.Calcium] = origins[WaterQuantity.Magnesium] = WaterValueOrigin.Derived;
            }

            return true;
        }

        private static InputProblem CannotBalance(WaterGuess water, double imbalance, double percent)
        {
            var anions = (water.SumMeqPerLitre - imbalance) / 2;
            return InputProblem.Error("charges", $"{percent:+0.#;-0.#} %",
                $"The charges cannot balance: cations make {WaterFacts.Say(anions + imbalance)} meq/L, anions {WaterFacts.Say(anions)} meq/L. Check the units of the largest {(imbalance > 0 ? "cations" : "anions")} (as CaCO3? as N?), or leave out the doubtful line and it will be estimated.");
        }

        // Least squares: minimise Σ (δ/σ)² with Σ z δ = −D, in equivalents.
        private static void ShareOut(WaterGuess water, Dictionary<WaterQuantity, WaterValueOrigin> origins, WaterFacts facts, double imbalanceMeqPerLitre)
        {
            // The floor is a laboratory's last digit for main ions; a trace is reported finer than that and must not pay for the others.
            double Sigma(double meq) => WaterFacts.IonRelativeSigma * Math.Abs(meq) + Math.Min(0.005, 0.25 * Math.Abs(meq));
            var ions = WaterIon.All.Where(ion => ion.Charge != 0 && water[ion.Quantity] > 0).ToList();
            var alkalinitySigma = facts.AlkalinityMeqPerLitre is null ? 0 : Sigma(water.AlkalinityMeqPerLitre);
            var variance = ions.Sum(ion => Sigma(ion.Charge * water[ion.Quantity]) * Sigma(ion.Charge * water[ion.Quantity])) + alkalinitySigma * alkalinitySigma;
            if (variance == 0)
            {
                return;
            }

            foreach (var ion in ions)
            {
                var sigma = Sigma(ion.Charge * water[ion.Quantity]);
                var move = -Math.Sign(ion.Charge) * sigma * sigma * imbalanceMeqPerLitre / variance;
                water[ion.Quantity] = Math.Max(0, water[ion.Quantity] + move / Math.Abs(ion.Charge));
                if (origins[ion.Quantity] == WaterValueOrigin.Measured)
                {
                    origins[ion.Quantity] = WaterValueOrigin.Adjusted;
                }
            }

            if (alkalinitySigma > 0)
            {
                // What clipping at zero left over goes here too, so that the balance is exact.
                water.AlkalinityMeqPerLitre += alkalinitySigma * alkalinitySigma * imbalanceMeqPerLitre / variance;
                origins[WaterQuantity.Alkalinity] = WaterValueOrigin.Adjusted;
                water.AlkalinityMeqPerLitre += water.ChargeMeqPerLitre;
            }
            else if (ions.Any(ion => water[ion.Quantity] == 0))
            {
                // What clipping at zero left over is shared out over the ions that are left.
                ShareOut(water, origins, facts, water.ChargeMeqPerLitre);
            }
        }

        private static void Fill(
            WaterGuess water, List<WaterQuantity> cations, List<WaterQuantity> anions, WaterSupposition supposed, WaterFacts facts,
            Dictionary<WaterQuantity, WaterValueOrigin> origins, Func<double, double, double> shake)
        {
            if (cations.Count == 0 && anions.Count == 0)
            {
                return;
            }

            var gap = water.ChargeMeqPerLitre;
            var leastAnions = Math.Max(0, gap);
            var leastCations = Math.Max(0, -gap);
            var both = cations.Count > 0 && anions.Count > 0;
            double most = both ? ExtraMeqPerLitre(With) : 0;
            With(most, water);
            foreach (var quantity in cations.Concat(anions))
            {
                origins[quantity] = WaterValueOrigin.Estimated;
            }

            void With(double extra, WaterGuess to)
            {
                Spread(to, cations, leastCations + extra, supposed);
                Spread(to, anions, leastAnions + extra, supposed);
            }

            // EC rises with every equivalent added, so halving finds it; without an EC a twentieth of what is there is supposed.
            double ExtraMeqPerLitre(Action<double, WaterGuess> with)
            {
                if (facts.MicrosiemensPerCm is not { } read)
                {
                    return shake(0.05 * water.SumMeqPerLitre, 0.05 * water.SumMeqPerLitre);
                }

                var target = shake(read, facts.EcRelativeSigma * read);
                double Ec(double extra)
                {
                    var trial = water.Copy();
                    with(extra, trial);
                    return trial.MicrosiemensPerCm();
                }

                if (Ec(0) >= target)
                {
                    return 0;
                }

                // No salt carries less than 80 µS/cm per meq/L, so this bound is above the answer.
                var (low, high) = (0.0, Math.Max(0.1, target / 50));
                for (var i = 0; i < 40 && high - low > 1e-4 * high; i++)
                {
                    var middle = (low + high) / 2;
                    (low, high) = Ec(middle) < target ? (middle, high) : (low, middle);
                }

                return (low + high) / 2;
            }
        }

        private static void Spread(WaterGuess water, List<WaterQuantity> quantities, double meqPerLitre, WaterSupposition supposed)
        {
            var all = quantities.Sum(quantity => Share(quantity, supposed));
            foreach (var quantity in quantities)
            {
                var meq = meqPerLitre * Share(quantity, supposed) / all;
                if (quantity == WaterQuantity.Alkalinity)
                {
                    water.AlkalinityMeqPerLitre = meq;
                }
                else
                {
                    water[quantity] = meq / Math.Abs(WaterIon.Find(quantity)!.Charge);
                }
            }
        }

        private static double Share(WaterQuantity quantity, WaterSupposition supposed) => quantity switch
        {
            WaterQuantity.Calcium => supposed.Calcium,
            WaterQuantity.Magnesium => supposed.Magnesium,
            WaterQuantity.Sodium => supposed.Sodium,
            WaterQuantity.Potassium => supposed.Potassium,
            WaterQuantity.Alkalinity => supposed.Alkalinity,
            WaterQuantity.Chloride => supposed.Chloride,
            WaterQuantity.Sulfate => supposed.Sulfate,
            _ => supposed.Nitrate,
        };
    }
}
