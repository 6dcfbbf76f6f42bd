using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Demo.SixYears;

// Two trials, registered before their first datum; drawn, looked at and ended by what the trial desk itself uses. Neither does anything to a plant (data/demo/truth.csv).
internal sealed partial class SixYearScenario
{
    private sealed record PlannedTrial(int MonthsAgo, int Months, int Looks, string Question, TrialOutcome Outcome, double Ratio, IReadOnlyList<TrialArm> Arms);

    private static readonly PlannedTrial[] s_trials =
    [
        new(40, 30, 2, "Do leaves last longer when they are wiped once a month?", TrialOutcome.LeafLoss, 0.5, [new TrialArm("as before", "leaves left alone"), new TrialArm("wiped", "leaves wiped with rain water on the first walk of the month")]),
        new(5, 18, 1, "Do more flowers open when the pots are turned every week?", TrialOutcome.Flowers, 1.3, [new TrialArm("still", "pots left as they stand"), new TrialArm("turned", "a quarter turn on every walk")]),
    ];

    private readonly Dictionary<Guid, PlantStory> _stories = [];
    private readonly List<TrialRecord> _trials = [];
    private readonly Dice _trialDice;

    /// <summary>Plants as the ledger knows them so far; what a later fact puts right (a length, a reading) is not asked about by these trials.</summary>
    private void Remember(NewFact fact)
    {
        if (fact.Corrects is null && PlantProjection.IsOfAPlant(fact.Payload))
        {
            if (!_stories.TryGetValue(fact.SubjectId, out var story))
            {
                _stories[fact.SubjectId] = story = new PlantStory { PlantId = fact.SubjectId };
            }

            story.Tell(fact.When ?? BenchClock.MinuteAt(Clock.GetUtcNow(), Zone), fact.Payload);
        }
    }

    private IEnumerable<NewFact> Trials(DateOnly day)
    {
        foreach (var plan in s_trials.Where(plan => day == _today.AddMonths(-plan.MonthsAgo)))
        {
            yield return Register(plan, day);
        }

        foreach (var trial in _trials.Where(trial => trial.Ended is null))
        {
            var (registered, id) = (trial.Registered, trial.Registered.TrialId);
            if (registered.Looks > 1 && trial.Looked.Count == 0 && day == registered.Begins.AddDays((int)Math.Ceiling(0.5 * (registered.Ends.DayNumber - registered.Begins.DayNumber))))
            {
                var price = TrialDesk.Price(trial, day);
                trial.Looked.Add(new TrialLooked(id, day, price.Share, price.Level, price.Planned, TrialReckoner.At(registered, Seated(registered), day, price.Level)));
                yield return TrialFact(id, trial.Looked[0]);
            }
            else if (day == registered.Ends)
            {
                trial.Ended = new TrialEnded(id, day, TrialReckoner.At(registered, Seated(registered), day, TrialDesk.LastLevel(trial)));
                yield return TrialFact(id, trial.Ended);
            }
        }
    }

    private NewFact Register(PlannedTrial plan, DateOnly day)
    {
        var seats = _plants.Where(plant => plant.IsHere && plant.Arrived <= day.AddDays(-90) && plant.Leaves is null && plant.Plant.Number != Infected && _stories.ContainsKey(plant.Id))
            .Select(plant => EvidencePlant.Of(_stories[plant.Id])!).Where(plant => plant.IsEvergreen).OrderBy(plant => plant.Number).ToList();
        var blocks = TrialDesk.BlocksOf(withinKinds: true, seats);
        var seed = 1 + (int)(999_999 * _trialDice.Share());
        var dealt = TrialDraw.Draw([.. seats.Select(plant => new TrialPlant(plant.Id.ToString(), blocks[plant.Id]))], [.. plan.Arms.Select(arm => arm.Name)], seed);
        var registered = new TrialRegistered
        {
            TrialId = _trialDice.Id(Clock.GetUtcNow()),
            Question = plan.Question,
            Arms = plan.Arms,
            Seats = [.. seats.Select(plant => new TrialSeat(plant.Id, blocks[plant.Id], dealt[plant.Id.ToString()]))],
            Seed = seed,
            Outcomes = [plan.Outcome],
            Test = TrialDesk.TestWords([plan.Outcome], Spending.OBrienFleming),
            Begins = day,
            Ends = day.AddMonths(plan.Months),
            Looks = plan.Looks,
            Spending = Spending.OBrienFleming,
            Alpha = TrialDesk.Alpha,
            Ratio = plan.Ratio,
        };
        _trials.Add(new TrialRecord(registered, Clock.GetUtcNow()));
        return TrialFact(registered.TrialId, registered);
    }

    private Dictionary<Guid, EvidencePlant> Seated(TrialRegistered trial) => trial.Seats.Select(seat => EvidencePlant.Of(_stories[seat.PlantId])!).ToDictionary(plant => plant.Id);

    // Ids of their own, so that nothing else falls otherwise for them.
    private NewFact TrialFact(Guid trialId, FactPayload payload) => Fact(trialId, payload, id: _trialDice.Id(Clock.GetUtcNow()));
}
