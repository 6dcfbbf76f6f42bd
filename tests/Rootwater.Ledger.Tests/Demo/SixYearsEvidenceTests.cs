using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Ledger.Demo.SixYears;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>
/// What the records alone tell of the truth planted in the six years: hazards of leaves born on the bench, evergreen kinds, by what a grower can know (potassium poured,
/// not potassium at the root; monthly EC; days since repotting). Three benches together, for one has too few losses to tell.
/// </summary>
public sealed class SixYearsEvidenceTests
{
    private static readonly DateOnly s_today = SixYearsTold.Today;

    [Fact]
    public void The_records_show_what_is_there_blurred_and_nothing_where_nothing_is()
    {
        var rows = new Rows();
        foreach (var seed in new[] { 36, 37, 38 })
        {
            rows.Add(new SixYearScenario(s_today, seed).Facts().ToList(), seed);
        }

        var fit = CoxRegression.Fit(rows.Request());

        fit.Events.ShouldBeGreaterThan(300);
        var (potassium, repotted, season, salt, tag) = (fit.Coefficients[0], fit.Coefficients[1], fit.Coefficients[2], fit.Coefficients[3], fit.Coefficients[4]);
        (potassium.Value / potassium.RobustError).ShouldNotBeNull().ShouldBeGreaterThan(2, "poured potassium stands in for potassium at the root");
        potassium.Value!.Value.ShouldBeInRange(0.05, Truth.Of("potassium_leaf_loss"));
        Within(repotted, Truth.Of("repotting_leaf_loss"), blurredTo: 0.2);
        // Not found: salt, thirst and repotting have seasons of their own that hide it (docs/science/demo.md). It may be missed, never reversed nor made larger than it is.
        Within(season, Truth.Of("season_leaf_loss"), blurredTo: -3 * season.RobustError!.Value);
        salt.Value!.Value.ShouldBeInRange(-3 * salt.RobustError!.Value, Truth.Of("salt_leaf_loss") + 3 * salt.RobustError.Value);
        tag.Value!.Value.ShouldBe(0, 3.3 * tag.RobustError!.Value, "an odd tag number means nothing");
    }

    // A yellow leaf falls a week or two after it was doomed, and is seen on the next round: effects come out smaller than they are, never larger but by chance.
    private static void Within(CoxCoefficient found, double truth, double blurredTo) => found.Value!.Value.ShouldBeInRange(blurredTo, truth + 3 * found.RobustError!.Value);

    private sealed class Rows
    {
        private readonly List<double> _entry = [], _exit = [];
        private readonly List<bool> _ended = [];
        private readonly List<double>[] _covariates = [[], [], [], [], []];
        private readonly List<string> _strata = [];
        private readonly List<Guid> _clusters = [];

        public CoxRequest Request()
        {
            var (strata, clusters) = (_strata.Distinct().ToList(), _clusters.Distinct().ToList());
            return new CoxRequest
            {
                Entry = [.. _entry],
                Exit = [.. _exit],
                Ended = [.. _ended],
                Names = ["halvings of potassium poured", "repotted lately", "season", "EC high", "odd tag"],
                Covariates = [.. _covariates.Select(values => values.ToArray())],
                Strata = [.. _strata.Select(kind => strata.IndexOf(kind))],
                Clusters = [.. _clusters.Select(plant => clusters.IndexOf(plant))],
            };
        }

        public void Add(List<NewFact> facts, int seed)
        {
            var plants = facts.Select(fact => fact.Payload).OfType<PlantArrived>().ToDictionary(arrived => arrived.PlantId);
            var potted = Days<PlantPotted>(facts);
            var (poured, ec) = (Poured(facts), Ec(facts));
            var lost = facts.Where(fact => fact.Payload is LeafLost).ToDictionary(fact => ((LeafLost)fact.Payload).LeafId, fact => fact.When!.EarliestDay);
            var ended = facts.Where(fact => fact.Payload is GrowthEnded).ToDictionary(fact => ((GrowthEnded)fact.Payload).GrowthId, fact => fact.When!.EarliestDay);
            var gone = facts.Where(fact => fact.Payload is PlantLost).ToDictionary(fact => fact.SubjectId, fact => fact.When!.EarliestDay);
            foreach (var fact in facts.Where(fact => fact.Payload is LeafSeen { ThereOnArrival: false }))
            {
                var (seen, id, born) = ((LeafSeen)fact.Payload, fact.SubjectId, fact.When!.EarliestDay);
                if (Kinds.Find(plants[id].Kind)?.Leaves is LeafHabit.Deciduous or LeafHabit.SemiDeciduous)
                {
                    continue;
                }

                var isLost = lost.TryGetValue(seen.LeafId, out var end);
                end = isLost ? end : ended.TryGetValue(seen.GrowthId, out var off) ? off : gone.GetValueOrDefault(id, s_today);
                for (var from = born; from < end; from = from.AddDays(15))
                {
                    var to = from.AddDays(15) < end ? from.AddDays(15) : end;
                    _entry.Add(from.DayNumber - born.DayNumber);
                    _exit.Add(to.DayNumber - born.DayNumber);
                    _ended.Add(isLost && to == end);
                    var before = from.AddDays(-7);
                    var feeds = poured[id].Where(feed => feed.Day <= before && feed.Day > before.AddDays(-75)).Select(feed => feed.Potassium).DefaultIfEmpty(40).Average();
                    _covariates[0].Add(Math.Log2(Truth.Of("potassium_reference") / Math.Max(feeds, 4)));
                    _covariates[1].Add(potted[id].Any(day => from.DayNumber - day.DayNumber is >= 0 and < 75) ? 1 : 0);
                    _covariates[2].Add(Math.Cos(2 * Math.PI * (from.DayOfYear - 15) / 365.25));
                    _covariates[3].Add(ec[id].LastOrDefault(read => read.Day <= before && read.Day > before.AddDays(-40)).Ec > 1600 ? 1 : 0);
                    _covariates[4].Add(plants[id].Number % 2);
                    _strata.Add($"{seed} {plants[id].Kind}");
                    _clusters.Add(id);
                }
            }
        }

        private static ILookup<Guid, DateOnly> Days<T>(List<NewFact> facts) => facts.Where(fact => fact.Payload is T).ToLookup(fact => fact.SubjectId, fact => fact.When!.EarliestDay);

        private static ILookup<Guid, (DateOnly Day, double Potassium)> Poured(List<NewFact> facts)
        {
            var cans = facts.Select(fact => fact.Payload).OfType<CanSaved>().ToDictionary(saved => saved.Card.Id, saved => saved.Card.MgPerLitre[Nutrient.Potassium]);
            return OnRounds(facts).Where(item => item.Fact.Payload is PlantGiven)
                .ToLookup(item => item.Fact.SubjectId, item => (item.Day, ((PlantGiven)item.Fact.Payload).CanId is { } can ? cans[can] : 0));
        }

        private static ILookup<Guid, (DateOnly Day, double Ec)> Ec(List<NewFact> facts)
        {
            var wrong = facts.Where(fact => fact.Corrects is not null).Select(fact => fact.Corrects!.Value).ToHashSet();
            return OnRounds(facts).Where(item => item.Fact.Payload is ReadingTaken && !wrong.Contains(item.Fact.Id))
                .ToLookup(item => item.Fact.SubjectId, item => (item.Day, ((ReadingTaken)item.Fact.Payload).EcMicrosiemensPerCm!.Value));
        }

        // Facts of the minute have no day of their own before they are written down: that of their round.
        private static IEnumerable<(NewFact Fact, DateOnly Day)> OnRounds(List<NewFact> facts)
        {
            var day = DateOnly.MinValue;
            foreach (var fact in facts)
            {
                day = fact.Payload is RoundBegun round ? round.AsOf : day;
                yield return (fact, day);
            }
        }
    }
}
