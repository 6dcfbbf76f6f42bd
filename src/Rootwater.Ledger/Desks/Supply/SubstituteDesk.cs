using Rootwater.Growing;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Cupboard.Supply;
using Rootwater.Growing.Labels;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Replacement;

namespace Rootwater.Ledger.Desks;

/// <summary>Doing without a product, over the mixing desk's own plans.</summary>
public sealed class SubstituteDesk(BenchDatabase database, MixingDesk mixing, ICupboardDesk cupboard, IProductEntryDesk entries, IWaterDesk waters, BenchTime time) : ISubstituteDesk
{
    private const int LooksAheadDays = 31;
    private const double Traces = 0.005, Moves = 0.1;

    // Salts that a shop for growers has: usual in soluble feeds (salts.csv), no micronutrients, which no macronutrient want needs.
    private const double MostRarity = 4;

    public async Task<WithoutSheet> WithoutAsync(Guid productId, SubstituteChoices? choices = null, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var (request, day) = await RequestAsync(choices ?? new SubstituteChoices(), progress, cancel);
        if (request.Cupboard.All(item => item.Product.Id != productId))
        {
            throw new EntryException("product", productId.ToString(), "a product in this cupboard");
        }

        var plan = await GuardedAsync(() => ProductReplacement.Without(request, productId, progress, cancel), cancel);
        return Sheet(plan, request, day);
    }

    public async Task<PurchaseSheet> BuyAsync(Guid? without = null, SubstituteChoices? choices = null, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var (request, day) = await RequestAsync(choices ?? new SubstituteChoices(), progress, cancel);
        // A product that is gone is neither there nor what to buy instead of itself.
        request = request with { Cupboard = [.. request.Cupboard.Where(item => item.Product.Id != without)] };
        var known = request.Cupboard.Select(item => item.Product.Id).ToHashSet();
        var offers = Offers(request, without);
        var (now, best) = await GuardedAsync(() => (CanPlanner.Plan(request, null, cancel), ProductReplacement.BestPurchase(request, offers, progress, cancel)), cancel);
        var options = best.Select(option => new PurchaseLine(known.Contains(option.Product.Id) ? option.Product.Id : null, option.Product.Name, option.Unmet, option.Product.PricePerKg is null ? null : option.Cost, option.Words)).ToList();
        var words = options.Count > 0 ? $"Best bought: {options[0].Name}."
            : now.Unmet.Count == 0 ? "Every want of those who are due is met by what is there; nothing needs to be bought for it."
            : "None of the products tried would meet more of the wants.";
        return new PurchaseSheet(day, now.Unmet, offers.Count, options, words);
    }

    public async Task<BrandsSheet> CompareAsync(CompareBrands asked, CancellationToken cancel = default)
    {
        var (one, other) = (await ProductAsync("one", asked.One, cancel), await ProductAsync("other", asked.Other, cancel));
        if (asked.Nutrient is null == asked.EcMicrosiemensPerCm is null)
        {
            throw new EntryException("nutrient", null, "exactly one of a nutrient with its mg/L and an EC");
        }

        var all = (await waters.ListAsync(cancel)).Where(water => water.Source is not null).ToList();
        var water = asked.WaterId is { } id
            ? all.FirstOrDefault(each => each.Id == id) ?? throw new EntryException("water", id.ToString(), "a water with a report")
            : all.OrderBy(each => each.Reports[0].Read.EcMicrosiemensPerCm ?? double.MaxValue).FirstOrDefault() ?? throw new EntryException("water", null, "a water with a report: enter one first");
        try
        {
            var comparison = await Task.Run(
                () => asked.Nutrient is { } nutrient
                    ? BrandComparison.AtEqual(one, other, nutrient, asked.MgPerLitre ?? throw new EntryException("mg per litre", null, "how much of the nutrient, mg/L"), water.Source!.MolPerKgWater)
                    : BrandComparison.AtEqualEc(one, other, asked.EcMicrosiemensPerCm!.Value, water.Source!.MolPerKgWater),
                cancel);
            var differs = comparison.Differences.Select(each => each.Nutrient).ToHashSet();
            return new BrandsSheet(
                water.Name, Line(comparison.One), Line(comparison.Other),
                [.. Enum.GetValues<Nutrient>().Where(each => Math.Max(comparison.One.MgPerLitre[each], comparison.Other.MgPerLitre[each]) > Traces).Select(each => new BrandNutrient(Nutrients.NameOf(each), comparison.One.MgPerLitre[each], comparison.Other.MgPerLitre[each], differs.Contains(each)))],
                comparison.Words);
        }
        catch (ArgumentException refused)
        {
            throw new EntryException(asked.Nutrient is null ? "EC" : "nutrient", asked.Nutrient?.ToString() ?? FormattableString.Invariant($"{asked.EcMicrosiemensPerCm:0} µS/cm"), refused.Message);
        }
    }

    private async Task<Product> ProductAsync(string field, Guid id, CancellationToken cancel) =>
        (await cupboard.GetAsync(id, cancel))?.Product ?? (await entries.GetAsync(id, cancel))?.Product ?? throw new EntryException(field, id.ToString(), "a product in the cupboard, or one on its way in");

    private async Task<(PlanRequest Request, DateOnly Day)> RequestAsync(SubstituteChoices choices, IProgress<PlanProgress>? progress, CancellationToken cancel)
    {
        if (!(choices.TimeLimit.TotalSeconds is >= 0.2 and <= 60))
        {
            throw new EntryException("time limit", FormattableString.Invariant($"{choices.TimeLimit.TotalSeconds:0.##} s"), "0.2 to 60 s");
        }

        var day = choices.AsOf ?? await NextDueAsync(cancel);
        return (await mixing.RequestAsync(new PlanChoices { AsOf = day, MostCans = choices.MostCans, TimeLimit = choices.TimeLimit }, progress, cancel), day);
    }

    private async Task<DateOnly> NextDueAsync(CancellationToken cancel)
    {
        var today = await time.TodayAsync(cancel);
        for (var day = today; day < today.AddDays(LooksAheadDays); day = day.AddDays(1))
        {
            if (await database.ReadAsync(async db => (await RoundReader.PlanAsync(db, day, null, cancel)).Stops.Any(stop => stop.Duty.Act == Growing.Rounds.RoundAct.Feed), cancel))
            {
                return day;
            }
        }

        throw new EntryException("day", null, "a day on which a plant is due for feed; within a month none is");
    }

    private static async Task<T> GuardedAsync<T>(Func<T> work, CancellationToken cancel)
    {
        try
        {
            return await Task.Run(work, cancel);
        }
        catch (PlanRequestException refused)
        {
            throw new EntryException([.. refused.Problems.Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Accepted))]);
        }
    }

    private static List<Product> Offers(PlanRequest request, Guid? without)
    {
        var there = request.Cupboard.Where(item => item.GramsLeft > 0).Select(item => item.Product).ToList();
        var offers = request.Cupboard.Where(item => item.GramsLeft <= 0 && item.Product.Id != without).Select(item => item.Product).ToList();
        foreach (var salt in SaltTable.All.Where(salt => !salt.OnlyDissolved && salt.Rarity <= MostRarity && SaltFacts.Find(salt.Formula) is { Kind: ProductKind.Salt }))
        {
            if (ProductFactory.FromFormula(salt.Name, salt.Formula).Product is { } product && there.Concat(offers).All(known => !IsAlike(known, product)))
            {
                offers.Add(product);
            }
        }

        return offers;
    }

    // The same thing under another name is no purchase.
    private static bool IsAlike(Product one, Product other) => Enum.GetValues<Nutrient>().All(nutrient => Math.Abs(one.MgPerKg[nutrient] - other.MgPerKg[nutrient]) <= 0.05 * Math.Max(one.MgPerKg[nutrient], other.MgPerKg[nutrient]) + 500);

    private static WithoutSheet Sheet(ReplacementPlan plan, PlanRequest request, DateOnly day) => new()
    {
        ProductId = plan.Missing.Id,
        Name = plan.Missing.Name,
        AsOf = day,
        IsUsed = plan.IsUsed,
        CanBeMixed = plan.Without.Plan is not null,
        Groups = [.. plan.Groups.Select(group => Group(group, request))],
        CostWith = plan.With.Plan?.Cost,
        CostWithout = plan.Without.Plan?.Cost,
        Nearest = [.. plan.Nearest.Select(each => new NearestPart(string.Join(" with ", each.Parts.Select(part => Facts.FactWords.Say($"{part.Grams:0.00} g {part.Product.Name}"))), each.Covers, each.ChangesPH))],
        Words = plan.Words,
    };

    private static GroupWithout Group(GroupChange change, PlanRequest request) => new()
    {
        Group = change.Group,
        Plants = [.. request.Groups.First(group => group.Name == change.Group).Portions.OrderBy(portion => portion.WalkOrder).Select(portion => Facts.FactWords.Say($"{portion.Number} {portion.PlantName}"))],
        Elements =
        [
            .. Enum.GetValues<Nutrient>().Select(nutrient => (Name: Nutrients.NameOf(nutrient), With: change.With?[nutrient], Without: change.Without?[nutrient]))
                .Where(each => Math.Max(each.With ?? 0, each.Without ?? 0) > Traces)
                .Select(each => new ElementWithout(each.Name, each.With, each.Without, each is { With: { } with, Without: { } without } && Math.Abs(with - without) > Moves * Math.Max(with, without))),
        ],
        EcWith = change.Ec.With,
        EcWithout = change.Ec.Without,
        PHWith = change.PH.With,
        PHWithout = change.PH.Without,
        Broken = change.Broken,
    };

    private static BrandLine Line(ComparedProduct compared) => new(compared.Product.Name, compared.GramsPerLitre, compared.EcMicrosiemensPerCm, compared.PH, compared.CostPerLitre);
}
