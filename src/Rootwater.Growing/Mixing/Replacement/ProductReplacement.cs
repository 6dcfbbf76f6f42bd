using System.Globalization;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing.Replacement;

/// <summary>What one group of plants gets with and without a product.</summary>
/// <param name="Group">Whose.</param>
/// <param name="With">What its can holds with the product, mg/L; null where the group got no can.</param>
/// <param name="Without">The same without.</param>
/// <param name="Ec">EC of its can with and without, µS/cm.</param>
/// <param name="PH">pH as poured with and without.</param>
/// <param name="Broken">Wants met with the product and not without.</param>
public sealed record GroupChange(string Group, NutrientAmounts? With, NutrientAmounts? Without, (double? With, double? Without) Ec, (double? With, double? Without) PH, IReadOnlyList<UnmetWant> Broken)
{
    /// <summary>The change in every element and form that moves by a tenth or more, mg/L, largest share first.</summary>
    public IReadOnlyList<(Nutrient Nutrient, double With, double Without)> Changes => With is { } with && Without is { } without
        ? [.. Enum.GetValues<Nutrient>().Select(nutrient => (nutrient, with[nutrient], without[nutrient])).Where(each => Math.Max(each.Item2, each.Item3) > 0.005 && Math.Abs(each.Item3 - each.Item2) > 0.1 * Math.Max(each.Item2, each.Item3)).OrderByDescending(each => Math.Abs(each.Item3 - each.Item2) / Math.Max(each.Item2, each.Item3))]
        : [];
}

/// <summary>A plan made again without a product.</summary>
public sealed record ReplacementPlan
{
    public required Product Missing { get; init; }
    public required PlanOutcome With { get; init; }
    public required PlanOutcome Without { get; init; }

    /// <summary>Whether the plan with it takes any of it.</summary>
    public bool IsUsed => ProductReplacement.Uses(With, Missing.Id);

    /// <summary>What takes its place gram by gram, for whoever mixes by hand (<see cref="NearestSubstitute"/>).</summary>
    public required IReadOnlyList<Substitute> Nearest { get; init; }
    public required IReadOnlyList<GroupChange> Groups { get; init; }

    /// <summary>Cost of the plan without, less that of the plan with; null where either has no plan.</summary>
    public required decimal? CostChange { get; init; }

    /// <summary>Groups that should not get the plan without: wants it breaks.</summary>
    public IEnumerable<string> NotFor => Groups.Where(group => group.Broken.Count > 0).Select(group => group.Group);
    public required IReadOnlyList<string> Words { get; init; }
}

/// <summary>What one product, bought, would do for the plan.</summary>
/// <param name="Product">Which.</param>
/// <param name="Unmet">Wants left unmet with it.</param>
/// <param name="MissLeft">How far they are missed in all, in widths of their bands.</param>
/// <param name="Cost">Of the plan with it.</param>
/// <param name="Words">In a sentence.</param>
public sealed record PurchaseOption(Product Product, IReadOnlyList<UnmetWant> Unmet, double MissLeft, decimal? Cost, string Words);

/// <summary>When a product is out: plan again with what is left, and see what changes; and the other way round, what single product bought would serve best.</summary>
public static class ProductReplacement
{
    // Bought for a plan: a usual package.
    private const double PackageGrams = 1000;

    /// <summary>Plans with and without.</summary>
    /// <param name="request">As for a plan; the missing product is in its cupboard, with lots or without.</param>
    /// <param name="missing">What is out.</param>
    /// <param name="progress">Told how far the searches are.</param>
    /// <param name="cancel">Stops them.</param>
    /// <exception cref="ArgumentException">The product is not in the request's cupboard.</exception>
    public static ReplacementPlan Without(PlanRequest request, Guid missing, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var item = request.Cupboard.FirstOrDefault(each => each.Product.Id == missing) ?? throw new ArgumentException("product: not in this cupboard; expected one of its products.");
        var others = request.Cupboard.Where(each => each.Product.Id != missing).ToList();
        var stocked = item.GramsLeft > 0 ? item : item with { Lots = [Package(item.Product)] };
        var with = CanPlanner.Plan(request with { Cupboard = [.. others, stocked] }, Part(progress, 0, 2, $"with {item.Product.Name}"), cancel);
        // A plan that does not use it is the plan without it; a second search under a time limit might end elsewhere and seem a change.
        var without = Uses(with, missing) ? CanPlanner.Plan(request with { Cupboard = others }, Part(progress, 1, 2, $"without {item.Product.Name}"), cancel) : with;
        var groups = request.Groups.Select(group => Compare(group.Name, with, without)).ToList();
        var plan = new ReplacementPlan
        {
            Missing = item.Product,
            With = with,
            Without = without,
            Nearest = NearestSubstitute.For(item.Product, [.. others.Where(each => each.GramsLeft > 0).Select(each => each.Product)]),
            Groups = groups,
            CostChange = without.Plan?.Cost - with.Plan?.Cost,
            Words = [],
        };
        return plan with { Words = Words(plan) };
    }

    internal static bool Uses(PlanOutcome outcome, Guid product) => outcome.Plan is { } plan
        && (plan.Cans.SelectMany(can => can.Steps).Any(step => step.ProductId == product) || plan.Concentrates.Any(recipe => recipe.Weigh.Any(part => part.ProductId == product)));

    /// <summary>Which one of these products, bought, would leave the least unmet; the best first, only those that help.</summary>
    /// <param name="request">The plan as it stands.</param>
    /// <param name="offers">What could be bought.</param>
    /// <param name="progress">Told how far the searches are.</param>
    /// <param name="cancel">Stops them.</param>
    public static IReadOnlyList<PurchaseOption> BestPurchase(PlanRequest request, IReadOnlyList<Product> offers, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var tried = offers.Where(offer => request.Cupboard.All(item => item.Product.Id != offer.Id || item.GramsLeft <= 0)).ToList();
        var now = CanPlanner.Plan(request, Part(progress, 0, tried.Count + 1, "as it is"), cancel);
        var missNow = Miss(now);
        var options = new List<PurchaseOption>();
        foreach (var (offer, i) in tried.Select((offer, i) => (offer, i)))
        {
            var outcome = CanPlanner.Plan(request with { Cupboard = [.. request.Cupboard.Where(item => item.Product.Id != offer.Id), new SupplyItem(offer, [Package(offer)])] }, Part(progress, i + 1, tried.Count + 1, $"with {offer.Name}"), cancel);
            var miss = Miss(outcome);

            // By what is left, for a small dose goes in as a concentrate.
            var uses = outcome.Plan is { } plan && plan.GramsLeftAfter.TryGetValue(offer.Id, out var left) && left < PackageGrams - 1e-6;
            if (uses && (miss < missNow - 1e-6 || (Math.Abs(miss - missNow) <= 1e-6 && offer.PricePerKg is not null && outcome.Plan?.Cost < now.Plan?.Cost)))
            {
                options.Add(new PurchaseOption(offer, outcome.Unmet, miss, outcome.Plan?.Cost, miss < missNow - 1e-6
                    ? Say($"{offer.Name}: {now.Unmet.Count} unmet wants become {outcome.Unmet.Count}.")
                    : Say($"{offer.Name}: nothing more is met, but the cans cost {now.Plan!.Cost - outcome.Plan!.Cost:0.00} less.")));
            }
        }

        return [.. options.OrderBy(option => option.MissLeft).ThenBy(option => option.Cost ?? decimal.MaxValue)];
    }

    // One search of several: its share of the whole, and which it is.
    private static IProgress<PlanProgress>? Part(IProgress<PlanProgress>? whole, int number, int of, string what) => whole is null ? null : new PartOfSearch(whole, number, of, what);

    private sealed class PartOfSearch(IProgress<PlanProgress> whole, int number, int of, string what) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => whole.Report(value with { Doing = $"{what}: {value.Doing}", Share = (number + (value.Share ?? 0)) / of });
    }

    private static Lot Package(Product product) => new() { Id = Guid.CreateVersion7(), ProductId = product.Id, GramsLeft = PackageGrams };

    private static double Miss(PlanOutcome outcome) => outcome.Plan is null
        ? double.PositiveInfinity
        : outcome.Unmet.Sum(want => Math.Max(want.Low - want.Reached, want.Reached - want.High) / Math.Max(1e-9, want.High - want.Low));

    private static GroupChange Compare(string group, PlanOutcome with, PlanOutcome without)
    {
        static CanPlan? CanOf(PlanOutcome outcome, string group) => outcome.Plan?.Cans.FirstOrDefault(can => can.Serves.Any(served => served.Group == group));
        var (one, other) = (CanOf(with, group), CanOf(without, group));
        var met = with.Unmet.Where(want => want.Group == group).Select(want => want.What).ToHashSet();
        return new GroupChange(group, one?.MgPerLitre, other?.MgPerLitre, (one?.EcMicrosiemensPerCm.Value, other?.EcMicrosiemensPerCm.Value), (one?.PH.Value, other?.PH.Value),
            [.. without.Unmet.Where(want => want.Group == group && !met.Contains(want.What))]);
    }

    private static List<string> Words(ReplacementPlan plan)
    {
        var words = new List<string>();
        if (plan.Without.Plan is null)
        {
            words.Add($"Without {plan.Missing.Name} nothing can be mixed from what is left.");
            return words;
        }

        var broken = plan.Groups.Where(group => group.Broken.Count > 0).ToList();
        words.Add(broken.Count == 0
            ? $"Without {plan.Missing.Name} every want that was met is still met."
            : $"Without {plan.Missing.Name} these plants should not get the plan: {string.Join("; ", broken.Select(group => $"{group.Group} ({string.Join(", ", group.Broken.Select(want => Say($"{want.What} {want.Reached:0.#} {want.Unit}, wanted {want.Low:0.#} to {want.High:0.#}")))})"))}.");
        foreach (var group in plan.Groups.Where(group => group.Changes.Count > 0))
        {
            words.Add($"{group.Group}: {string.Join(", ", group.Changes.Take(5).Select(change => Say($"{Nutrients.NameOf(change.Nutrient)} {Figure(change.With)} to {Figure(change.Without)} mg/L")))}.");
        }

        if (plan.Nearest.Count > 0)
        {
            words.Add($"Nearest in the cupboard: {string.Join(" with ", plan.Nearest[0].Parts.Select(part => Say($"{part.Grams:0.00} g {part.Product.Name}")))} for each gram of it, which keeps {Say($"{plan.Nearest[0].Covers:0 %}")} of what it does.");
        }

        if (plan.CostChange is { } cost && Math.Abs(cost) >= 0.01m)
        {
            words.Add(Say($"The cans cost {Math.Abs(cost):0.00} {(cost > 0 ? "more" : "less")}."));
        }

        return words;
    }

    private static string Figure(double mg) => mg.ToString(mg < 1 ? "0.###" : "0.#", CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
