using Rootwater.Growing.Evidence.Trials;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// What a look costs, and how a trial reads.
public sealed partial class TrialDesk
{
    /// <summary>Two looks nearer to each other than this share of the trial are one.</summary>
    private const double LeastShare = 0.01;

    private static IEnumerable<double> Shares(TrialRecord trial) => trial.Looked.Select(look => look.Share);

    /// <summary>The p that each of these looks has to reach, by the trial's own spending.</summary>
    private static double[] Levels(TrialRecord trial, IReadOnlyList<double> shares) =>
        [.. GroupSequential.Boundaries(shares, trial.Registered.Spending, trial.Registered.Alpha).Select(GroupSequential.NominalLevel)];

    private static double LastLevel(TrialRecord trial, IReadOnlyList<double> shares) => shares.Count == 0 ? trial.Registered.Alpha : Levels(trial, [.. shares, 1])[^1];

    /// <summary>The p the end has to reach after the looks that were taken.</summary>
    internal static double LastLevel(TrialRecord trial) => LastLevel(trial, [.. Shares(trial)]);

    internal static LookPrice Price(TrialRecord trial, DateOnly today)
    {
        var (share, before) = (trial.Share(today), Shares(trial).ToList());
        if (share < LeastShare || before.Count > 0 && share - before[^1] < LeastShare || share > 1 - LeastShare)
        {
            throw new EntryException("trial", trial.Registered.Question, share > 1 - LeastShare ? "a trial with more than a hundredth of its length to go; wait for its end" : "a day at least a hundredth of the trial's length after its begin or its last look");
        }

        var levels = Levels(trial, [.. before, share, 1]);
        var (level, with, without) = (levels[before.Count], levels[^1], LastLevel(trial, before));
        var due = trial.Registered.Looks > 1 ? (int)Math.Floor(share * trial.Registered.Looks + 0.02) : 0;
        var planned = due > before.Count;
        var words = FactWords.Say($"{100 * share:0} % of the trial is over. A look now may claim a difference only at p below {Small(level)}; the end then has to reach {Small(with)} in place of {Small(without)}.")
            + (planned ? " A look was planned by now." : " No look was planned for now: looking because something seems to show is how one fools oneself.")
            + " It is written down that you looked.";
        return new LookPrice(share, level, without, with, planned, words);
    }

    private static string Small(double p) => p < 1e-6 ? "one in a million" : FactWords.Say($"{p:0.######}");

    private static TrialView ToView(TrialRecord trial, IReadOnlyDictionary<Guid, EvidencePlant> plants, DateOnly today)
    {
        var registered = trial.Registered;
        var state = trial.StateOn(today);
        var levels = registered.Looks == 1 ? [registered.Alpha] : Levels(trial, [.. Enumerable.Range(1, registered.Looks).Select(k => k / (double)registered.Looks)]);
        var gets = registered.Arms.ToDictionary(arm => arm.Name, arm => arm.Gets);
        return new TrialView
        {
            Id = registered.TrialId,
            Registered = registered,
            RegisteredAt = trial.RegisteredAt,
            State = state,
            Looks = [.. levels.Select((level, k) => new PlannedLook(k + 1, DayAt(registered.Begins, registered.Ends, (k + 1) / (double)levels.Length), level))],
            Looked = trial.Looked,
            Result = trial.Result,
            EndedOn = trial.Ended?.AsOf ?? trial.Stopped?.AsOf,
            StoppedWhy = trial.Stopped?.Why,
            Departures = trial.Departures,
            Seats = [.. registered.Seats.Select(seat => new TrialSeatView(seat.PlantId, plants.GetValueOrDefault(seat.PlantId)?.Number, plants.GetValueOrDefault(seat.PlantId)?.Name, seat.Arm, gets[seat.Arm])).OrderBy(seat => seat.Arm, StringComparer.Ordinal).ThenBy(seat => seat.Number)],
            Basis = trial.Result is { } result ? BasisOf(registered, result) : null,
            Words = state switch
            {
                TrialState.ToCome => FactWords.Say($"Begins on {registered.Begins:yyyy-MM-dd}."),
                TrialState.Running => FactWords.Say($"{100 * trial.Share(today):0} % over; ends on {registered.Ends:yyyy-MM-dd}.") + (trial.Looked.Count > 0 ? FactWords.Say($" Looked at {trial.Looked.Count} times; the end has to reach p {Small(LastLevel(trial))}.") : ""),
                TrialState.ToEnd => "Its last day is past: its result can be written.",
                _ => trial.Result!.Words,
            },
        };
    }

    private static EvidenceBasis BasisOf(TrialRegistered registered, TrialResult result) => new(
        registered.Test,
        [
            "The program dealt the plants; which arm a plant came into hangs on nothing else.",
            "What a plant got is what its arm was registered to get; departures are listed.",
            "The watch on a leaf or plant ends for reasons that have nothing to do with its arm.",
        ],
        registered.Seats.Count, result.Outcomes.Sum(line => line.FirstPlants + line.SecondPlants), result.Outcomes.Sum(line => line.FirstEvents + line.SecondEvents));

    private static DateOnly DayAt(DateOnly begins, DateOnly ends, double share) => begins.AddDays((int)Math.Round(share * (ends.DayNumber - begins.DayNumber)));
}
