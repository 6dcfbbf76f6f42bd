using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Evidence from the ledger. The statistics are those of Rootwater.Growing.Evidence (docs/science/evidence.md); this reads what they need and says what came out.</summary>
public sealed partial class EvidenceDesk(BenchDatabase database, IPlantDesk bench, BenchTime time) : IEvidenceDesk, IDisposable
{
    /// <summary>Steps of a curve that are handed out; a curve of thousands is thinned for the eye, never for the statistics.</summary>
    private const int MostPoints = 400;

    private readonly EvidenceMemory _memory = new(database);

    public Task<LivesAnswer> LivesAsync(EvidenceQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync($"lives {question.Of} {question.Since}", question.Plants, async (group, all) => await LivesAsync(group, question, await FeedChangesAsync(question.Plants)), cancel);

    public Task<IReadOnlyList<FeedChange>> FeedChangesAsync(PlantGroup plants, CancellationToken cancel = default) =>
        OnGroupAsync("changes", plants, async (group, _) => (IReadOnlyList<FeedChange>)FeedChanges.Find(await FeedsAsync(group.Plants), group.Plants), cancel);

    public async Task<KindsAnswer> KindsAsync(DateOnly since, CancellationToken cancel = default) =>
        await OnGroupAsync($"kinds {since}", new PlantGroup(), async (group, all) =>
        {
            CheckSince(since, group.Plants, group.Today);
            var lines = new List<(string Kind, Verdict Verdict)>();
            // A kind that came later was not watched before.
            foreach (var kind in all.Where(plant => plant.Arrived.Earliest < since).GroupBy(plant => plant.KindWords).OrderBy(kind => kind.Key, StringComparer.OrdinalIgnoreCase))
            {
                var members = kind.ToList();
                var answer = await LivesAsync(group with { Plants = members, Who = WhoOf(members, kind.Key) }, new EvidenceQuestion(new PlantGroup { Kind = kind.Key }, since), []);
                lines.Add((kind.Key, answer.Verdict!));
            }

            var asked = lines.Where(line => line.Verdict.P is not null).ToList();
            var adjusted = Multiplicity.Adjust([.. asked.Select(line => line.Verdict.P!.Value)]);
            var views = lines.Select(line =>
            {
                var at = asked.IndexOf(line);
                double? p = at < 0 ? null : adjusted[at];
                return new KindLine(line.Kind, line.Verdict, p, p <= 0.05);
            }).ToList();
            var (claimed, stands) = (views.Count(line => line.Verdict.ClaimsDifference), views.Count(line => line.StandsCorrected));
            return new KindsAnswer(since,
                FactWords.Say($"{asked.Count} of {views.Count} kinds could be asked. {claimed} differ at 5 in 100 taken one by one; {stands} still do when the {asked.Count} questions are corrected for being several (Benjamini–Hochberg)."),
                views, new EvidenceBasis("log-rank test stratified by plant, per kind; Benjamini–Hochberg over kinds", ["Of the differences that stand after the correction, 5 in 100 are false on average.", SurvivalWords.NonInformative], all.Count, views.Sum(line => line.Verdict.Lives), views.Sum(line => line.Verdict.Events)));
        }, cancel);

    private async Task<LivesAnswer> LivesAsync(Group group, EvidenceQuestion question, IReadOnlyList<FeedChange> changes)
    {
        var since = question.Since ?? Proposed(changes, group);
        if (question.Since is { } asked)
        {
            CheckSince(asked, group.Plants, group.Today);
        }

        var counted = group.Plants.SelectMany(plant => CountedLife.Of(plant, question.Of, group.Today)).ToList();
        var (lives, vague) = CountedLife.InDays(counted);
        var says = new List<string>(vague);
        // A plant's own age is counted from its coming: that is the life on this bench.
        var known = question.Of == LivesOf.Plants ? lives : [.. lives.Where(life => life.Life.AgeKnown)];
        if (known.Count < lives.Count)
        {
            says.Add(FactWords.Say($"{lives.Count - known.Count} {Many(question.Of)} were there when the plant came, their age unknown: they have a curve of their own, from the coming on, and are left out of the comparison, where an old leaf would pass for a young one."));
        }

        var also = since is { } day
            ? Confounders.Around(day, group.Today, group.Plants, await FeedsAsync(group.Plants, day.AddDays(-Confounders.ComparedDays), day.AddDays(Confounders.ComparedDays)), await AirAsync()) : [];
        var verdict = since is { } change ? VerdictOf(group, question.Of, known, change, also) : null;
        var curves = Curves(lives, known, since);
        if (question.Of == LivesOf.Leaves && group.Plants.Count == 1 && verdict is not null)
        {
            says.Add("One plant: whatever it shows, it shows of this plant, not of its kind.");
        }

        return new LivesAnswer
        {
            Who = group.Who,
            Of = question.Of,
            Today = group.Today,
            Since = since,
            SinceProposed = question.Since is null && since is not null,
            Verdict = verdict,
            Words = verdict is null
                ? (since is null && question.Since is null ? "The ledger shows no change of feed to compare by; name a day. " : "") + string.Join(" ", curves.SelectMany(curve => curve.Says).Take(2))
                : verdict.Words + (verdict.WhatItWouldTake is { } take ? " " + take : ""),
            Curves = curves,
            AlsoMoved = also,
            Table = new LifeLines(group.Plants, question.Of, group.Today, counted.Count),
            Says = says,
            Changes = changes,
            Basis = verdict is null
                ? new EvidenceBasis("Kaplan–Meier with late entry, log-log bands", [SurvivalWords.NonInformative], group.Plants.Count, lives.Count, lives.Count(life => life.Days.Lost))
                : new EvidenceBasis(verdict.Method + "; curves by Kaplan–Meier with late entry, log-log bands", verdict.Assumptions, group.Plants.Count, verdict.Lives, verdict.Events),
        };
    }

    private static Verdict VerdictOf(Group group, LivesOf of, IReadOnlyList<(CountedLife Life, LeafLife Days)> known, DateOnly since, IReadOnlyList<Confounder> also)
    {
        var question = $"{group.Who}: {Many(of)} kept better since {since:yyyy-MM-dd}?";
        if (known.Count == 0)
        {
            return new Verdict
            {
                Question = question,
                Strength = Strength.CannotTell,
                Words = of == LivesOf.Plants ? "No plant was under watch." : $"There are no {Many(of)} whose age is known, so nothing can be compared at the same age.",
                Method = "log-rank test stratified by plant",
                Assumptions = [],
                Plants = group.Plants.Count,
                Lives = 0,
                Events = 0,
                AlsoChanged = [.. also.Where(each => each.Near).Select(each => each.What)],
            };
        }

        // Each plant is its own control; a plant's own life has only its kind to be compared within.
        var lives = known.Select(life => of == LivesOf.Plants ? life.Days with { Plant = life.Life.Plant.KindWords } : life.Days).ToList();
        var verdict = SurvivalVerdict.BeforeAndAfter(question, lives, since.DayNumber, group.Today.DayNumber, Confounders.Near(also, since), of switch
        {
            LivesOf.Growths => "losing a growth",
            LivesOf.Plants => "losing a plant",
            LivesOf.Blooms => "a bloom being over",
            _ => "losing a leaf",
        });
        var near = also.Where(each => each.Near).Select(each => each.Words).ToList();
        return verdict with
        {
            AlsoChanged = near,
            Plants = group.Plants.Count,
            Method = of == LivesOf.Plants ? verdict.Method.Replace("by plant", "by kind", StringComparison.Ordinal).Replace("with plants as strata", "with kinds as strata", StringComparison.Ordinal) : verdict.Method,
        };
    }

    private static IReadOnlyList<CurveView> Curves(IReadOnlyList<(CountedLife Life, LeafLife Days)> lives, IReadOnlyList<(CountedLife Life, LeafLife Days)> known, DateOnly? since)
    {
        var groups = new List<(string Name, List<Lifetime> Lives)>();
        if (since is { } day)
        {
            groups.Add(("before", [.. known.Select(life => Cut(life.Days, double.NegativeInfinity, day.DayNumber)).OfType<Lifetime>()]));
            groups.Add(("since", [.. known.Select(life => Cut(life.Days, day.DayNumber, double.PositiveInfinity)).OfType<Lifetime>()]));
        }
        else if (known.Count > 0)
        {
            groups.Add(("all", [.. known.Select(life => Cut(life.Days, double.NegativeInfinity, double.PositiveInfinity)).OfType<Lifetime>()]));
        }

        if (known.Count < lives.Count)
        {
            groups.Add(("came with the plant", [.. lives.Where(life => !life.Life.AgeKnown).Select(life => Cut(life.Days, double.NegativeInfinity, double.PositiveInfinity)).OfType<Lifetime>()]));
        }

        var fitted = groups.Where(group => group.Lives.Count > 0).Select(group => KaplanMeier.Fit(group.Lives, group.Name)).ToList();
        // All to the same age, the shortest of what is compared, so that the means can be compared.
        var within = fitted.Where(curve => curve.Group != "came with the plant").Select(curve => curve.LastTime).DefaultIfEmpty(fitted.Count == 0 ? 0 : fitted[0].LastTime).Min();
        return [.. fitted.Select(curve => ToView(curve, within))];
    }

    /// <summary>The part of a life between two days, at its own age; null where it has none.</summary>
    private static Lifetime? Cut(LeafLife life, double from, double to)
    {
        var last = Math.Max(life.LastDay, life.BornDay + 0.5);
        var (start, end) = (Math.Max(life.BornDay, from), Math.Min(last, to));
        if (end <= start)
        {
            return null;
        }

        return new Lifetime(start > life.BornDay ? start - life.BornDay : double.NegativeInfinity, end - life.BornDay, life.Lost && last <= to);
    }

    private static CurveView ToView(SurvivalCurve curve, double within)
    {
        var (lower, upper) = curve.QuantileBand(0.5);
        var steps = curve.Steps.Where(step => step.Events > 0).ToList();
        var every = Math.Max(1, (steps.Count + MostPoints - 1) / MostPoints);
        var points = steps.Where((_, i) => i % every == 0 || i == steps.Count - 1).Select(step => step.Time).Append(curve.LastTime).Distinct();
        return new CurveView(curve.Group, curve.N, curve.Events,
            [.. points.Select(at =>
            {
                var band = curve.Band(at);
                return new CurvePoint(at, curve.AtRisk(at), curve.Steps.Where(step => step.Time == at).Sum(step => step.Events), curve.Survival(at), band.Lower, band.Upper);
            })],
            curve.Quantile(0.5), lower, upper, curve.Events == 0 || within <= 0 ? null : curve.RestrictedMean(within).Mean, within, [.. SurvivalWords.Curve(curve)]);
    }

    private static DateOnly? Proposed(IReadOnlyList<FeedChange> changes, Group group) => changes
        .Where(change => change.Day.AddDays(180) <= group.Today && change.Day >= group.Plants.Min(plant => plant.Arrived.Latest).AddDays(180))
        .MaxBy(change => Math.Abs(change.Largest))?.Day;

    private static string Many(LivesOf of) => of switch { LivesOf.Growths => "growths", LivesOf.Plants => "plants", LivesOf.Blooms => "blooms", _ => "leaves" };

    public void Dispose() => _memory.Dispose();
}
