using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Labels;

namespace Rootwater.Growing.Cupboard.Entry;

/// <summary>What a test can should read, and whether it does.</summary>
/// <param name="Ec">µS/cm at 25 °C, 95 % band of label, scale and pen.</param>
/// <param name="PH">The same.</param>
/// <param name="MeasuredEc">Null when not read yet.</param>
/// <param name="MeasuredPH">Null when not read yet.</param>
public sealed record TestOutcome(Expected Ec, Expected PH, double? MeasuredEc, double? MeasuredPH)
{
    public bool EcAgrees => MeasuredEc is not { } ec || (ec >= Ec.Low && ec <= Ec.High);
    public bool PHAgrees => MeasuredPH is not { } ph || (ph >= PH.Low && ph <= PH.High);
}

/// <summary>What comes next on the way of a product.</summary>
/// <param name="What">In a sentence.</param>
/// <param name="NotBefore">Null when it can be done now.</param>
public sealed record NextStep(string What, DateTimeOffset? NotBefore);

/// <summary>The way of a new product into the cupboard, step by step and resumable: the state is what the recorded steps make of it.</summary>
/// <remarks>
/// Read the label, work out what it must be made of (<see cref="ProductFactory"/> has done both), mix a test can in the grower's own water, compare, look after a day, a few
/// plants of little value beside matched ones for three to six months, accept or reject. Any step may end it by a rejection. EC sees neither urea, phosphite nor traces.
/// </remarks>
public sealed class ProductEntry
{
    /// <summary>Hours after which haze would show.</summary>
    public const double LookAfterHours = 24;

    /// <summary>Shortest trial, days; leaves and roots answer slowly.</summary>
    public const int LeastTrialDays = 90;

    /// <summary>Longest sensible trial, days.</summary>
    public const int MostTrialDays = 183;

    private const int LeastPairs = 2;
    private const double HourGrace = 1;

    private ProductEntry(Product product, IReadOnlyList<EntryStep> steps) => (Product, Steps) = (product, steps);

    /// <summary>As its label says.</summary>
    public Product Product { get; }

    public IReadOnlyList<EntryStep> Steps { get; }

    /// <summary>Begins with a product made from its label.</summary>
    public static ProductEntry Start(Product product) => new(product, []);

    /// <summary>Takes up where the records left off.</summary>
    /// <exception cref="ArgumentException">The records do not follow one another; it says which.</exception>
    public static ProductEntry Resume(Product product, IEnumerable<EntryStep> steps)
    {
        var entry = Start(product);
        foreach (var step in steps)
        {
            var (next, problems) = entry.With(step);
            entry = next ?? throw new ArgumentException($"{problems[0].Field}: {problems[0].Message}");
        }

        return entry;
    }

    public EntryStage Stage => Last<Decided>() is { } decided
        ? decided.Accepted ? EntryStage.Accepted : EntryStage.Rejected
        : Steps.Count == 0 ? EntryStage.LabelRead : Steps[^1] switch
        {
            TestPlanned => EntryStage.TestPlanned,
            TestRead => EntryStage.TestRead,
            TestLookedAt looked => looked.Clear ? EntryStage.Clear : EntryStage.TestRead,
            TrialStarted => EntryStage.OnTrial,
            _ => EntryStage.Judged,
        };

    /// <summary>It may be used on plants of the trial only.</summary>
    public bool IsProvisional => Stage is EntryStage.OnTrial or EntryStage.Judged;

    /// <summary>What comes next; null at the end.</summary>
    public NextStep? Next => Stage switch
    {
        EntryStage.LabelRead => new NextStep($"Mix a test can of {Product.Name} in your own water, at about the strength you would feed. Dissolve a large sample: powders segregate.", null),
        EntryStage.TestPlanned => new NextStep(Say($"Mix it, let it come to {Last<TestPlanned>()!.Celsius:0} °C and read it: EC {Test!.Ec.Low / 1000:0.00} to {Test.Ec.High / 1000:0.00} mS/cm and pH {Test.PH.Low:0.0} to {Test.PH.High:0.0} would be fine."), null),
        EntryStage.TestRead when Last<TestLookedAt>() is { Clear: false } => new NextStep("It did not stay clear. Mix it again weaker or in another water, or reject it.", null),
        EntryStage.TestRead => new NextStep("Let it stand and look for haze or grains against the light.", Last<TestRead>()!.At.AddHours(LookAfterHours)),
        EntryStage.Clear => new NextStep(Say($"Give it to a few plants of little value beside matched ones on the old product, for {LeastTrialDays} to {MostTrialDays} days; fix beforehand what will be compared."), null),
        EntryStage.OnTrial => new NextStep("Judge the trial by what was fixed beforehand.", Last<TrialStarted>()!.At.AddDays(LeastTrialDays)),
        EntryStage.Judged => new NextStep("Accept it or reject it.", null),
        _ => null,
    };

    /// <summary>The latest test can against the label; null before one is planned.</summary>
    public TestOutcome? Test
    {
        get
        {
            if (Last<TestPlanned>() is not { } planned)
            {
                return null;
            }

            var read = Steps.SkipWhile(step => !ReferenceEquals(step, planned)).OfType<TestRead>().LastOrDefault();
            var (ec, ph) = Read(Product.MolPerKg, planned);
            var can = new TestCan { GramsPerLitre = planned.GramsPerLitre };
            var ecSd = Math.Sqrt(can.EcRelativeSigma * can.EcRelativeSigma + Product.RelativeUncertainty * Product.RelativeUncertainty) * ec;
            var phSd = Math.Sqrt(can.PHSigma * can.PHSigma + Product.PHUncertainty * Product.PHUncertainty);
            return new TestOutcome(new Expected(ec - 1.96 * ecSd, ec, ec + 1.96 * ecSd), new Expected(ph - 1.96 * phSd, ph, ph + 1.96 * phSd), read?.EcMicrosiemensPerCm, read?.PH);
        }
    }

    /// <summary>The product as it is to be used: as its label says, corrected only where the test can read outside its band, and only for what was read.</summary>
    /// <remarks>
    /// EC outside its band scales everything the pen can see (urea and traces with it, since one powder thins as a whole); pH outside its band adds the acid or base that
    /// explains it, as chloride's acid or sodium's base. Readings inside their bands correct nothing: that would be learning the pen.
    /// </remarks>
    public (Product Product, IReadOnlyList<string> Corrections) Corrected()
    {
        var words = new List<string>();
        if (Test is not { } test || Last<TestPlanned>() is not { } planned)
        {
            return (Product, words);
        }

        var product = Product;
        if (!test.EcAgrees && test.MeasuredEc is { } ec)
        {
            var (low, high) = (0.2, 3.0);
            for (var i = 0; i < 40; i++)
            {
                var middle = (low + high) / 2;
                (low, high) = Read(product.MolPerKg.Scaled(middle), planned).Ec < ec ? (middle, high) : (low, middle);
            }

            var factor = (low + high) / 2;
            product = product with { MolPerKg = product.MolPerKg.Scaled(factor) };
            words.Add(Say($"EC read {ec / 1000:0.00} in place of {test.Ec.Value / 1000:0.00} mS/cm: taken as {factor:0.00} of what the label says."));
        }

        if (!test.PHAgrees && test.MeasuredPH is { } ph)
        {
            var solved = Solve(product.MolPerKg, planned, null);
            var wanted = Solve(product.MolPerKg, planned, ph);
            var protonsPerKg = (wanted.HydrogenMolPerKgWater - solved.HydrogenMolPerKgWater) / (planned.GramsPerLitre / 1000);
            var ion = protonsPerKg > 0 ? Component.Chloride : Component.Sodium;
            product = product with { MolPerKg = product.MolPerKg.PlusScaled(ComponentAmounts.From((Component.Hydrogen, protonsPerKg), (ion, Math.Abs(protonsPerKg))), 1), PHUncertainty = new TestCan { GramsPerLitre = 1 }.PHSigma };
            words.Add(Say($"pH read {ph:0.0} in place of {test.PH.Value:0.0}: {Math.Abs(protonsPerKg):0.00} meq/g more {(protonsPerKg > 0 ? "acid" : "base")} than the label lets one think."));
        }

        return (product, words);
    }

    /// <summary>Records a step, or says why it cannot be taken now.</summary>
    public (ProductEntry? Entry, IReadOnlyList<InputProblem> Problems) With(EntryStep step)
    {
        var problem = Steps.Count > 0 && step.At < Steps[^1].At
            ? InputProblem.Error("when", step.At.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture), "It lies before the step recorded last.")
            : Problem(step);
        return problem is null ? (new ProductEntry(Product, [.. Steps, step]), []) : (null, [problem]);
    }

    private InputProblem? Problem(EntryStep step)
    {
        if (Stage is EntryStage.Accepted or EntryStage.Rejected)
        {
            return InputProblem.Error("step", null, "This entry is closed; begin a new one.");
        }

        return step switch
        {
            TestPlanned planned => Stage > EntryStage.Clear ? Out("A test can comes before the trial.") : Within("grams per litre", planned.GramsPerLitre, 0.05, 20) ?? Within("litres", planned.Litres, 0.1, 100) ?? Within("°C", planned.Celsius, 2, 40),
            TestRead read => Stage is not (EntryStage.TestPlanned or EntryStage.TestRead) ? Out("There is no test can to read.")
                : read is { EcMicrosiemensPerCm: null, PH: null } ? InputProblem.Error("reading", null, "Read EC, pH or both.")
                : Refused(read.EcMicrosiemensPerCm is { } ec ? PenReading.Ec(ec, Test!.Ec) : null) ?? Refused(read.PH is { } ph ? PenReading.PH(ph) : null),
            TestLookedAt looked => Last<TestRead>() is not { } read || Stage != EntryStage.TestRead ? Out("Read the test can first.")
                : looked.Clear && (looked.At - read.At).TotalHours < LookAfterHours - HourGrace ? InputProblem.Error("when", null, Say($"Haze may need a day: look again after {read.At.AddHours(LookAfterHours):yyyy-MM-dd HH:mm}.")) : null,
            TrialStarted trial => Stage != EntryStage.Clear ? Out("A test can has to stay clear for a day before any plant gets it.")
                : trial.Pairs.Count < LeastPairs ? InputProblem.Error("pairs", trial.Pairs.Count.ToString(CultureInfo.InvariantCulture), "One plant tells nothing: at least two pairs.")
                : trial.Pairs.SelectMany(pair => new[] { pair.New, pair.Old }).GroupBy(id => id).Any(group => group.Count() > 1) ? InputProblem.Error("pairs", null, "Each plant can be in one pair only.")
                : string.IsNullOrWhiteSpace(trial.Outcome) ? InputProblem.Error("outcome", null, "Say now what will be compared; afterwards something can always be found.") : null,
            TrialJudged judged => Stage != EntryStage.OnTrial ? Out("No trial is running.")
                : (judged.At - Last<TrialStarted>()!.At).TotalDays < LeastTrialDays && judged.Worse == 0 ? InputProblem.Error("when", null, Say($"Too early to tell: after {Last<TrialStarted>()!.At.AddDays(LeastTrialDays):yyyy-MM-dd}. Only harm can end it sooner."))
                : judged.Worse < 0 || judged.Better < 0 || judged.Worse + judged.Better > Last<TrialStarted>()!.Pairs.Count ? InputProblem.Error("pairs", null, Say($"There are {Last<TrialStarted>()!.Pairs.Count} pairs.")) : null,
            Decided decided => decided.Accepted && Stage != EntryStage.Judged ? Out("It can only be accepted once its trial is judged.")
                : string.IsNullOrWhiteSpace(decided.Why) ? InputProblem.Error("why", null, "A word why, for whoever asks in three years.") : null,
            _ => Out("Not a step of this protocol."),
        };
    }

    private T? Last<T>() where T : EntryStep => Steps.OfType<T>().LastOrDefault();

    private static (double Ec, double PH) Read(ComponentAmounts molPerKg, TestPlanned planned)
    {
        var solution = Solve(molPerKg, planned, null);
        return (solution.ConductivityAt25MicrosiemensPerCm(), solution.PH);
    }

    private static Solution Solve(ComponentAmounts molPerKg, TestPlanned planned, double? fixedPH) =>
        EquilibriumSolver.Solve(planned.WaterMolPerKg.PlusScaled(molPerKg, planned.GramsPerLitre / 1000), new SolveConditions { Temperature = Temperature.FromCelsius(planned.Celsius), FixedPH = fixedPH }).Required();

    // What is only doubtful is taken: a reading far from the label is what the test is for.
    private static InputProblem? Refused(InputProblem? problem) => problem is { Severity: Severity.Error } ? problem : null;

    private static InputProblem Out(string message) => InputProblem.Error("step", null, message);

    private static InputProblem? Within(string field, double value, double low, double high) =>
        value >= low && value <= high ? null : InputProblem.Error(field, Text(value), Say($"Accepted: {low} to {high}."));

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
