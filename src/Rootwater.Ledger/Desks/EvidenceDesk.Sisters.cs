using Rootwater.Growing;
using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Matched sister plants: those of the same kind whose feed did not change on that day.
public sealed partial class EvidenceDesk
{
    /// <summary>Days to either side over which a plant's own feed is compared.</summary>
    private const int MatchDays = 150;
    private const double ChangedLog2 = 0.42;

    private static readonly Func<NutrientAmounts, double>[] s_matched = [mg => mg.TotalNitrogen, mg => mg[Nutrient.Potassium], mg => mg[Nutrient.Phosphorus], mg => mg[Nutrient.Calcium], mg => mg[Nutrient.Magnesium]];

    public Task<SistersAnswer> SistersAsync(EvidenceQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync($"sisters {question.Since}", question.Plants, async (group, all) =>
        {
            var kinds = group.Plants.Select(plant => plant.KindWords).ToHashSet(StringComparer.OrdinalIgnoreCase);
            var kin = all.Where(plant => kinds.Contains(plant.KindWords)).ToList();
            var feeds = await FeedsAsync(kin);
            var since = question.Since ?? Proposed(FeedChanges.Find(feeds, group.Plants), group);
            if (since is { } asked)
            {
                CheckSince(asked, group.Plants, group.Today);
            }

            return Sisters(group, kin, feeds, since);
        }, cancel);

    private static SistersAnswer Sisters(Group group, List<EvidencePlant> kin, FeedHistory feeds, DateOnly? since)
    {
        var basis = new EvidenceBasis(
            "Cox regression with plants as strata, leaves cut at the day: the change of hazard in plants whose feed changed over that in plants of the same kind whose feed did not; t with plants less one degrees of freedom",
            ["Both would have gone the same way without the change of feed.", "They were not drawn: what made some change and others not may matter too.", SurvivalWords.NonInformative], kin.Count, 0, 0);
        if (since is not { } day)
        {
            return new SistersAnswer(group.Who, null, "The ledger shows no change of feed to compare by; name a day.", null, null, null, null, [], basis);
        }

        var meant = group.Plants.Select(plant => plant.Id).ToHashSet();
        var sorted = kin.Where(plant => plant.Arrived.Latest < day && (plant.Left is null || plant.Left.Value.Earliest > day))
            .Select(plant => (Plant: plant, Changed: HasChanged(plant, feeds, day))).Where(each => each.Changed is not null && (meant.Contains(each.Plant.Id) || each.Changed == false)).ToList();
        var lives = Known([.. sorted.Select(each => each.Plant)], group.Today, says: null);
        var changed = sorted.ToDictionary(each => each.Plant.Id, each => each.Changed!.Value);
        var rows = sorted.Select(each => Row(each.Plant, each.Changed!.Value, [.. lives.Where(life => life.Life.Plant.Id == each.Plant.Id).Select(life => life.Days)], day)).OrderByDescending(row => row.Changed).ThenBy(row => row.Plant).ToList();
        basis = basis with { Plants = rows.Count, Lives = lives.Count, Events = lives.Count(life => life.Days.Lost) };
        SistersAnswer Cannot(string why) => new(group.Who, day, why, null, null, null, null, rows, basis);
        var (with, without) = (rows.Count(row => row.Changed), rows.Count(row => !row.Changed));
        if (with == 0 || without == 0)
        {
            return Cannot(with == 0
                ? "The feed of none of these plants changed on that day, so there is nothing to set sisters against."
                : FactWords.Say($"The feed of all {with} plants changed on that day: no sister of their kind stayed as it was, so there is no control. Before and after is all that can be asked."));
        }

        return Compared(group.Who, day, lives, changed, rows, basis);
    }

    private static SistersAnswer Compared(string who, DateOnly day, IReadOnlyList<(CountedLife Life, LeafLife Days)> lives, Dictionary<Guid, bool> changed, List<SisterLine> rows, EvidenceBasis basis)
    {
        var parts = lives.SelectMany(life => new[] { (life, After: false, Part: Cut(life.Days, double.NegativeInfinity, day.DayNumber)), (life, After: true, Part: Cut(life.Days, day.DayNumber, double.PositiveInfinity)) })
            .Where(each => each.Part is not null).Select(each => (each.life.Life.Plant.Id, each.After, Part: each.Part!.Value)).ToList();
        SistersAnswer Cannot(string why) => new(who, day, why, null, null, null, null, rows, basis);
        if (!parts.Exists(part => part.Part.Ended))
        {
            return Cannot("No leaf whose age is known was lost in either group, so nothing can be compared.");
        }

        var plants = parts.Select(part => part.Id).Distinct().ToList();
        var strata = parts.Select(part => plants.IndexOf(part.Id)).ToArray();
        var fit = CoxRegression.Fit(new CoxRequest
        {
            Entry = [.. parts.Select(part => part.Part.Entry)],
            Exit = [.. parts.Select(part => part.Part.Exit)],
            Ended = [.. parts.Select(part => part.Part.Ended)],
            Names = ["since", "changed and since"],
            Covariates = [[.. parts.Select(part => part.After ? 1.0 : 0)], [.. parts.Select(part => part.After && changed[part.Id] ? 1.0 : 0)]],
            Strata = strata,
            Clusters = plants.Count >= 10 ? strata : null,
        });
        var effect = fit.Coefficients[1];
        if (fit.Cannot is not null || effect.Cannot is not null || effect.Value is not { } value || P(effect, plants.Count) is not { } p)
        {
            return Cannot(fit.Cannot ?? "The losses fell so one-sidedly, or so few in one of the groups, that their ratio has no bound: it cannot be told from these records.");
        }

        var reach = Tails.StudentFor(0.95, Math.Max(1, plants.Count - 1)) * Error(effect)!.Value;
        var (ratio, lower, upper) = (Math.Exp(value), Math.Exp(value - reach), Math.Exp(value + reach));
        var (with, without) = (rows.Count(row => row.Changed), rows.Count(row => !row.Changed));
        return new SistersAnswer(who, day, FactWords.Say($"{(p > 0.05 ? "Too early to tell" : p > 0.01 ? "A hint, no more" : "Good evidence, though not drawn")}: beside {without} sisters that stayed as they were, the chance of losing a leaf in the {with} that changed became {ratio:0.##} times ({lower:0.##} to {upper:0.##}). {SurvivalWords.Chance(p)}"), ratio, lower, upper, p, rows, basis);
    }

    /// <summary>Null where too little was poured on either side to say.</summary>
    private static bool? HasChanged(EvidencePlant plant, FeedHistory feeds, DateOnly day)
    {
        var largest = 0.0;
        foreach (var of in s_matched)
        {
            if (feeds.Mean(plant.Id, of, day.AddDays(-1), MatchDays) is not { } before || feeds.Mean(plant.Id, of, day.AddDays(MatchDays), MatchDays) is not { } since)
            {
                return null;
            }

            largest = Math.Max(largest, Math.Abs(Math.Log2(Math.Max(since, 2) / Math.Max(before, 2))));
        }

        return largest >= ChangedLog2;
    }

    private static SisterLine Row(EvidencePlant plant, bool changed, List<LeafLife> lives, DateOnly day)
    {
        var years = Years(lives.Select(life => (DateOnly.FromDayNumber((int)life.BornDay), DateOnly.FromDayNumber((int)life.LastDay))), day);
        return new SisterLine(plant.Number, plant.Name, changed, lives.Count(life => life.Lost && life.LastDay < day.DayNumber), years.Before, lives.Count(life => life.Lost && life.LastDay >= day.DayNumber), years.Since);
    }
}
