using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Trials;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What a trial shows on a day, by the test it was registered with: the draw is made again ten thousand times, and the difference seen is placed among those it could have given.</summary>
internal static class TrialReckoner
{
    public static TrialResult At(TrialRegistered trial, IReadOnlyDictionary<Guid, EvidencePlant> plants, DateOnly day, double level)
    {
        var lines = trial.Outcomes.Select(outcome => One(trial, outcome, plants, day)).ToList();
        var asked = lines.Where(line => line.P is not null).ToList();
        var adjusted = Multiplicity.Adjust([.. asked.Select(line => line.P!.Value)]);
        lines = [.. lines.Select(line => asked.IndexOf(line) is var at && at >= 0 ? Said(line with { PAdjusted = adjusted[at] }, level, trial) : line.Words.Length > 0 ? line : line with { Words = $"{Name(line.Outcome)}: every way to draw these arms would give the same difference, so nothing can be told from it." })];
        var first = lines[0];
        var claims = first.PAdjusted <= level;
        var words = first.Words + (lines.Count > 1 ? FactWords.Say($" {lines.Count} outcomes were asked at once and corrected for it (Benjamini–Hochberg).") : "");
        return new TrialResult(level, claims, words, lines);
    }

    private static OutcomeResult One(TrialRegistered trial, TrialOutcome outcome, IReadOnlyDictionary<Guid, EvidencePlant> plants, DateOnly day) =>
        outcome == TrialOutcome.LeafLoss ? LeafLoss(trial, plants, day) : Values(trial, outcome, plants, day);

    private static OutcomeResult LeafLoss(TrialRegistered trial, IReadOnlyDictionary<Guid, EvidencePlant> plants, DateOnly day)
    {
        var arms = trial.Arms.Select(arm => trial.Seats.Where(seat => seat.Arm == arm.Name).SelectMany(seat => plants.TryGetValue(seat.PlantId, out var plant) ? Watched(plant, seat.PlantId, trial.Begins, day) : []).ToList()).ToArray();
        double Years(List<LeafLife> lives) => lives.Sum(life => life.LastDay - life.WatchedFromDay) / 365.25;
        double? Rate(List<LeafLife> lives) => Years(lives) > 0 ? lives.Count(life => life.Lost) / Years(lives) : null;
        var result = new OutcomeResult(TrialOutcome.LeafLoss, Rate(arms[0]), Rate(arms[1]), Plants(arms[0]), Plants(arms[1]), arms[0].Count(life => life.Lost), arms[1].Count(life => life.Lost), null, null, null, null, null, "");
        if (arms[0].Count == 0 || arms[1].Count == 0)
        {
            return result with { Words = "In one arm no leaf was under watch, so nothing can be compared." };
        }

        var verdict = SurvivalVerdict.Arms(trial.Question, arms[0], arms[1], (trial.Arms[0].Name, trial.Arms[1].Name), drawn: true, day.DayNumber, 0.999);
        if (verdict.P is null)
        {
            return result with { Words = verdict.Words };
        }

        var scores = PlantScores.Of([.. arms[0].Concat(arms[1]).Select(life => (life.Plant, new Lifetime(life.WatchedFromDay > life.BornDay ? life.WatchedFromDay - life.BornDay : double.NegativeInfinity, Math.Max(life.LastDay - life.BornDay, 0.5), life.Lost)))]);
        return result with { Ratio = verdict.HazardRatio, Lower = verdict.Interval?.Lower, Upper = verdict.Interval?.Upper, P = Redrawn(trial, seat => scores.TryGetValue(seat.PlantId.ToString(), out var score) ? score : null) };
    }

    private static int Plants(List<LeafLife> lives) => lives.Select(life => life.Plant).Distinct().Count();

    /// <summary>Leaves of a plant from the trial's first day on, each entering at the age it had.</summary>
    private static IEnumerable<LeafLife> Watched(EvidencePlant plant, Guid id, DateOnly begins, DateOnly day)
    {
        foreach (var life in CountedLife.Of(plant, LivesOf.Leaves, day))
        {
            double born = life.Began.Middle.DayNumber, from = Math.Max(born, begins.DayNumber), until = life.Until.Middle.DayNumber, last = Math.Min(until, day.DayNumber);
            if (last > from)
            {
                yield return new LeafLife(id.ToString(), born, from, last, life.Lost && until <= day.DayNumber);
            }
        }
    }

    private static OutcomeResult Values(TrialRegistered trial, TrialOutcome outcome, IReadOnlyDictionary<Guid, EvidencePlant> plants, DateOnly day)
    {
        var values = trial.Seats.ToDictionary(seat => seat.PlantId, seat => plants.TryGetValue(seat.PlantId, out var plant) ? ValueOf(outcome, plant, trial.Begins, day) : null);
        var arms = trial.Arms.Select(arm => trial.Seats.Where(seat => seat.Arm == arm.Name).Select(seat => values[seat.PlantId]).OfType<double>().ToList()).ToArray();
        var counts = outcome != TrialOutcome.LeafLength;
        var result = new OutcomeResult(outcome, arms[0].Count > 0 ? arms[0].Average() : null, arms[1].Count > 0 ? arms[1].Average() : null, arms[0].Count, arms[1].Count, counts ? (int)arms[0].Sum() : arms[0].Count, counts ? (int)arms[1].Sum() : arms[1].Count, null, null, null, null, null, "");
        if (arms[0].Count < 2 || arms[1].Count < 2)
        {
            return result with { Words = $"{Name(outcome)}: {arms[0].Count} and {arms[1].Count} plants have a value; two in each arm are the least." };
        }

        if (arms[0].Concat(arms[1]).Distinct().Count() == 1)
        {
            return result with { Words = FactWords.Say($"{Name(outcome)}: {arms[0][0]:0.#} on every plant, so there is nothing to compare yet.") };
        }

        var (ratio, lower, upper) = Ratio(arms[0], arms[1]);
        return result with { Ratio = ratio, Lower = lower, Upper = upper, P = Redrawn(trial, seat => values[seat.PlantId]) };
    }

    private static double? ValueOf(TrialOutcome outcome, EvidencePlant plant, DateOnly begins, DateOnly day)
    {
        bool Inside(DaySpan span) => span.Middle >= begins && span.Middle <= day;
        var leaves = plant.Growths.SelectMany(growth => growth.Leaves).Where(leaf => !leaf.ThereOnArrival && Inside(leaf.FirstSeen)).ToList();
        switch (outcome)
        {
            case TrialOutcome.NewLeaves:
                return leaves.Count;
            case TrialOutcome.Spikes:
                return plant.Growths.SelectMany(growth => growth.Spikes).Count(spike => Inside(spike.FirstSeen));
            case TrialOutcome.Flowers:
                return plant.Growths.SelectMany(growth => growth.Spikes).Where(spike => spike.FirstFlower is { } first && Inside(first)).Sum(spike => spike.Flowers ?? 0);
            default:
                var lengths = leaves.Select(leaf => leaf.Measures.Where(measure => measure.On <= day && measure.LengthMillimetres is not null).Select(measure => measure.LengthMillimetres!.Value).DefaultIfEmpty(0).Max()).Where(length => length > 0).ToList();
                return lengths.Count == 0 ? null : lengths.Average();
        }
    }

    // Interval of a ratio of means by the delta method on its logarithm.
    private static (double? Ratio, double? Lower, double? Upper) Ratio(List<double> first, List<double> second)
    {
        var (a, b) = (first.Average(), second.Average());
        if (!(a > 0 && b > 0))
        {
            return (a > 0 ? b / a : null, null, null);
        }

        double Square(List<double> values, double mean) => values.Sum(value => (value - mean) * (value - mean)) / (values.Count - 1) / values.Count / (mean * mean);
        var reach = Tails.StudentFor(0.95, first.Count + second.Count - 2) * Math.Sqrt(Square(first, a) + Square(second, b));
        return (b / a, Math.Exp(Math.Log(b / a) - reach), Math.Exp(Math.Log(b / a) + reach));
    }

    /// <summary>Two-sided p of the difference of arm means, over draws made as the trial's own was, with other seeds. Null where every draw gives the same.</summary>
    private static double? Redrawn(TrialRegistered trial, Func<TrialSeat, double?> value)
    {
        var redraws = new TrialRedraws([.. trial.Seats.Select(seat => new TrialPlant(seat.PlantId.ToString(), seat.Block))], trial.Seed);
        return redraws.P([.. trial.Seats.Select(seat => value(seat) ?? double.NaN)], [.. trial.Seats.Select(seat => (byte)(seat.Arm == trial.Arms[0].Name ? 0 : 1))]);
    }

    private static OutcomeResult Said(OutcomeResult line, double level, TrialRegistered trial)
    {
        var (a, b) = (trial.Arms[0].Name, trial.Arms[1].Name);
        var size = line.Outcome == TrialOutcome.LeafLoss
            ? FactWords.Say($"{line.FirstEvents} leaves lost under “{a}” ({line.First:0.##} a leaf-year) and {line.SecondEvents} under “{b}” ({line.Second:0.##})")
            : FactWords.Say($"{Name(line.Outcome)}: {line.First:0.##} a plant under “{a}”, {line.Second:0.##} under “{b}”");
        var ratio = line.Ratio is { } r ? FactWords.Say($", “{b}” against “{a}” {r:0.##} times{(line.Lower is null ? "" : FactWords.Say($" ({line.Lower:0.##} to {line.Upper:0.##})"))}") : "";
        var p = line.PAdjusted ?? 1;
        var strength = p <= level ? p <= 0.001 ? "Strong evidence" : p <= 0.01 ? "Good evidence" : "A hint, no more" : "No difference can be claimed";
        return line with { Words = $"{strength}: {size}{ratio}. {SurvivalWords.Chance(line.P ?? 1)}" };
    }

    public static string Name(TrialOutcome outcome) => outcome switch
    {
        TrialOutcome.LeafLoss => "leaves lost",
        TrialOutcome.NewLeaves => "new leaves",
        TrialOutcome.LeafLength => "length of new leaves, mm",
        TrialOutcome.Flowers => "flowers",
        _ => "spikes",
    };
}
