using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Rates;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Rare events per time.
public sealed partial class EvidenceDesk
{
    public Task<RatesAnswer> RatesAsync(EvidenceQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync($"rates {question.Since}", question.Plants, async (group, _) =>
        {
            var feeds = await FeedsAsync(group.Plants);
            var since = question.Since ?? Proposed(FeedChanges.Find(feeds, group.Plants), group);
            var basis = new EvidenceBasis(
                "exact Poisson rate ratio, conditional on the total (Przyborowski and Wilenski 1940): central p and interval; mid-p and minimum-likelihood p beside it; Benjamini–Hochberg over rows",
                ["Events fall independently of each other at a steady rate on each side: one outbreak that takes several leaves counts as several.", "The event does not come with age: losses by age are compared by the curves.", "Nothing else changed."], group.Plants.Count, 0, 0);
            if (since is not { } day)
            {
                return new RatesAnswer(group.Who, null, "The ledger shows no change of feed to compare by; name a day.", [], basis);
            }

            CheckSince(day, group.Plants, group.Today);
            var lines = Corrected(Lines(group, day));
            var asked = lines.Count(line => line.PAdjusted is not null);
            var words = lines.Where(line => line.PAdjusted <= 0.05).Select(line => line.Words).ToList();
            return new RatesAnswer(group.Who, day,
                words.Count > 0 ? string.Join(" ", words) : asked == 0 ? "None of these events was ever seen, so nothing can be compared; the rows say how often they can happen at most." : FactWords.Say($"None of {asked} rates differs by more than chance gives when {asked} are asked at once."),
                lines, basis with { Events = lines.Sum(line => line.Before + line.Since), Lives = lines.Count });
        }, cancel);

    private static IEnumerable<(string What, string Per, int Before, double TimeBefore, int Since, double TimeSince)> Lines(Group group, DateOnly since)
    {
        // Losses of leaves and growths as such are no matter of rates: they come with age, and the bench grows older. The curves compare them at the same age.
        var leaves = group.Plants.SelectMany(plant => CountedLife.Of(plant, LivesOf.Leaves, group.Today)).ToList();
        var leafYears = Years(leaves.Select(leaf => (leaf.Began.Middle, leaf.Until.Middle)), since);
        var plantYears = Years(group.Plants.Select(plant => (plant.Arrived.Middle, plant.Left?.Middle ?? group.Today)), since);
        yield return Line("leaf lost to rot", "leaf-years", leaves.Where(leaf => leaf.Cause == LeafLoss.Rot).Select(leaf => leaf.Until.Middle), since, leafYears);
        yield return Line("leaf lost to pests", "leaf-years", leaves.Where(leaf => leaf.Cause == LeafLoss.Pest).Select(leaf => leaf.Until.Middle), since, leafYears);
        yield return Line("plant lost", "plant-years", group.Plants.SelectMany(plant => CountedLife.Of(plant, LivesOf.Plants, group.Today)).Where(life => life.Lost).Select(life => life.Until.Middle), since, plantYears);
        yield return Line("pests found", "plant-years", group.Plants.SelectMany(plant => plant.PestsFound).Select(span => span.Middle), since, plantYears);
        yield return Line("spike blasted", "plant-years", group.Plants.SelectMany(plant => plant.Growths).SelectMany(growth => growth.Spikes).Where(spike => spike.EndCause == SpikeEnd.Blasted && spike.Ended is not null).Select(spike => spike.Ended!.Value.Middle), since, plantYears);
    }

    private static (string, string, int, double, int, double) Line(string what, string per, IEnumerable<DateOnly> events, DateOnly since, (double Before, double Since) years)
    {
        var days = events.ToList();
        return (what, per, days.Count(day => day < since), years.Before, days.Count(day => day >= since), years.Since);
    }

    private static (double Before, double Since) Years(IEnumerable<(DateOnly From, DateOnly To)> spans, DateOnly since)
    {
        var (before, after) = (0.0, 0.0);
        foreach (var (from, to) in spans)
        {
            before += Math.Max(0, Math.Min(to.DayNumber, since.DayNumber) - from.DayNumber) / 365.25;
            after += Math.Max(0, to.DayNumber - Math.Max(from.DayNumber, since.DayNumber)) / 365.25;
        }

        return (before, after);
    }

    private static List<RateLine> Corrected(IEnumerable<(string What, string Per, int Before, double TimeBefore, int Since, double TimeSince)> rows)
    {
        var lines = rows.Select(row => One(row.What, row.Per, row.Before, row.TimeBefore, row.Since, row.TimeSince)).ToList();
        var asked = lines.Where(line => line.PCentral is not null).ToList();
        var adjusted = Multiplicity.Adjust([.. asked.Select(line => line.PCentral!.Value)]);
        return [.. lines.Select(line => asked.IndexOf(line) is var at && at >= 0 ? line with { PAdjusted = adjusted[at] } : line)];
    }

    private static RateLine One(string what, string per, int before, double timeBefore, int since, double timeSince)
    {
        var line = new RateLine(what, per, before, timeBefore, since, timeSince, null, null, null, null, null, null, null, "");
        if (!(timeBefore > 0 && timeSince > 0))
        {
            return line with { Words = $"{what}: nothing was under watch {(timeBefore > 0 ? "since" : "before")}, so there is nothing to compare." };
        }

        var compared = PoissonRates.Compare(new EventCount(since, timeSince), new EventCount(before, timeBefore));
        if (compared.Cannot is not null || compared.P is not { } p || compared.Exact is not { } interval)
        {
            return line with { Words = FactWords.Say($"{what}: never seen in {timeBefore + timeSince:0.#} {per}, so nothing can be said of a change. With 95 in 100 certainty it happens less than once in {(timeBefore + timeSince) / 3:0.#} {per}.") };
        }

        double? upper = double.IsFinite(interval.Upper) ? interval.Upper : null;
        double? ratio = compared.Ratio is { } r && double.IsFinite(r) ? r : null;
        var times = ratio is { } value
            ? FactWords.Say($"{value:0.##} times as often ({interval.Lower:0.##} to {(upper is { } up ? FactWords.Say($"{up:0.##}") : "no upper end")})")
            : FactWords.Say($"only since, never before (at least {interval.Lower:0.##} times as often)");
        return line with
        {
            Ratio = ratio,
            Lower = interval.Lower,
            Upper = upper,
            PCentral = p.Central,
            PMid = p.MidP,
            PMinimumLikelihood = p.MinimumLikelihood,
            Words = FactWords.Say($"{what}: {before} in {timeBefore:0.#} {per} before, {since} in {timeSince:0.#} since: {times}. {Growing.Evidence.Survival.SurvivalWords.Chance(Math.Min(1, p.Central))}"),
        };
    }
}
