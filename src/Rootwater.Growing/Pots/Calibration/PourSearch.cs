using System.Globalization;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>The forecast turned round under uncertainty: pH, strength and leach interval that keep the roots inside their windows longest, for one pot or a group sharing a can.</summary>
/// <remarks>
/// Every way of pouring is run for every pot and every draw of its parameters over the coming feeds; nothing is interpolated. A group's can is the one whose mean share over
/// its pots is highest; each pot may be leached at its own interval. Of ways within 0.01 of the best the one with fewer leaches, then the stronger, is taken.
/// </remarks>
public static class PourSearch
{
    private const double LookEveryHours = 24;
    private const double RenewRestEveryHours = 48;
    private const double AsGood = 0.01;

    /// <summary>Searches; a group of one is one pot.</summary>
    /// <exception cref="PotInputException">Something given cannot be used.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static GroupPourAdvice Best(GroupPourRequest request, IProgress<CalibrationProgress>? progress = null, CancellationToken cancellation = default)
    {
        request.Check();
        var cans = new List<(double PH, double Strength, ComponentAmounts Poured)>();
        foreach (var strength in request.Strengths)
        {
            var thinned = request.FeedMolPerKgWater.Scaled(strength).PlusScaled(request.WaterMolPerKgWater, 1 - Math.Min(1, strength));
            cans.AddRange(request.PourPH.Select(ph => (ph, strength, PotInverse.AtPH(thinned, ph, request.AcidPerMole, request.BasePerMole).Poured)));
        }

        // outcomes[pot][can]: with the leach interval that suits the pot best.
        var outcomes = request.Pots.Select(_ => new PourOutcome[cans.Count]).ToArray();
        var done = 0;
        Parallel.For(0, request.Pots.Count * cans.Count, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            var (pot, can) = (request.Pots[i / cans.Count], cans[i % cans.Count]);
            outcomes[i / cans.Count][i % cans.Count] = Pick(request.LeachEvery.Select(leach => OutcomeOf(request, pot, can.PH, can.Strength, can.Poured, leach)));
            var now = Interlocked.Increment(ref done);
            if (now % 8 == 0)
            {
                progress?.Report(new CalibrationProgress((double)now / (request.Pots.Count * cans.Count), "trying ways to pour"));
            }
        });

        var best = Enumerable.Range(0, cans.Count).Max(can => Mean(outcomes, can));
        var shared = Enumerable.Range(0, cans.Count).Where(can => Mean(outcomes, can) >= best - AsGood).OrderByDescending(can => cans[can].Strength).ThenByDescending(can => Mean(outcomes, can)).First();
        var members = request.Pots.Select((pot, i) => new MemberOutcome(pot.Id, outcomes[i][shared], Pick(outcomes[i]))).OrderByDescending(member => member.DaysAWeekLost).ToList();
        var lost = members.Average(member => member.DaysAWeekLost);
        return new GroupPourAdvice(cans[shared].PH, cans[shared].Strength, members, lost, Words(cans[shared], members, lost, request));
    }

    private static double Mean(PourOutcome[][] outcomes, int can) => outcomes.Average(pot => pot[can].ShareInWindow.Value);

    private static PourOutcome Pick(IEnumerable<PourOutcome> outcomes)
    {
        var all = outcomes.ToList();
        var best = all.Max(one => one.ShareInWindow.Value);
        return all.Where(one => one.ShareInWindow.Value >= best - AsGood).OrderBy(one => one.LeachEvery == 0 ? 0 : 1.0 / one.LeachEvery).ThenByDescending(one => one.Strength).ThenByDescending(one => one.ShareInWindow.Value).First();
    }

    private static PourOutcome OutcomeOf(GroupPourRequest request, ServedPot pot, double ph, double strength, ComponentAmounts poured, int leachEvery)
    {
        var shares = pot.Draws.Select(draw => ShareInWindow(request, pot, draw, poured, leachEvery)).Order().ToArray();
        double At(double quantile) => shares[(int)Math.Round(quantile * (shares.Length - 1))];
        return new PourOutcome(ph, strength, leachEvery, new Expected(At(0.1), shares.Average(), At(0.9)), shares.Count(share => share < 1 - request.TolerableOutside) / (double)shares.Length);
    }

    private static double ShareInWindow(GroupPourRequest request, ServedPot pot, PotParameters parameters, ComponentAmounts poured, int leachEvery)
    {
        var run = new PotRun(parameters with { StepHours = Math.Max(3, parameters.StepHours) }, pot.Setup, pot.Climate, pot.Before) { SolvesReservoir = false };
        var period = request.Days * 24;
        var (hours, values) = (new List<double>(), new List<double>());
        for (var feed = 0; feed < request.Feeds; feed++)
        {
            // The first feed is poured into what the pot holds now; a leach goes before the feed that is due for it.
            if (leachEvery > 0 && feed > 0 && feed % leachEvery == 0)
            {
                run.Do(new PotEvent(PotEventKind.Leach, 0, 2 * pot.Setup.MediumLitres, request.WaterMolPerKgWater));
            }

            run.Do(new PotEvent(PotEventKind.Refill, 0, pot.Setup.ReservoirLitres + 0.5 * pot.Setup.HeldLitres, poured));
            run.RenewEcRatios();
            var next = 0.0;
            for (var at = 0.0; at <= period + 1e-9; at += LookEveryHours)
            {
                var now = Math.Min(at, period);
                if (now >= next)
                {
                    run.RenewRest();
                    next = now + RenewRestEveryHours;
                }

                var (look, _) = run.LookWhereRead(false, false);
                run.GasIsSettled();
                hours.Add(feed * period + now);

                // A root too salty is out of its window, whatever its pH.
                values.Add(look.Ec25MicrosiemensPerCm <= pot.MostEcMicrosiemensPerCm ? look.PH : 0);
                run.Advance(Math.Min(LookEveryHours, period - now));
            }
        }

        return TimeShare.Inside([.. hours], [.. values], pot.RootPH);
    }

    private static List<string> Words((double PH, double Strength, ComponentAmounts Poured) can, List<MemberOutcome> members, double lost, GroupPourRequest request)
    {
        var words = new List<string>();
        var leaches = members.GroupBy(member => member.Shared.LeachEvery).OrderBy(group => group.Key).Select(group => group.Key == 0 ? Say($"{group.Count()} need no leach in {request.Feeds} feeds") : Say($"{group.Count()} want a leach before every {group.Key} feeds"));
        if (members.Count == 1)
        {
            var one = members[0].Own;
            words.Add(Say($"Pour at pH {one.PH:0.0} and {one.Strength:0.##} of the feed's strength, {(one.LeachEvery == 0 ? "no leach" : Say($"a leach before every {one.LeachEvery} feeds"))}: inside its window {one.ShareInWindow.Value:0 %} of the time ({one.ShareInWindow.Low:0 %} to {one.ShareInWindow.High:0 %}); chance of leaving it for more than {request.TolerableOutside:0 %} of the time {one.ChanceOfLeaving:0 %}."));
            return words;
        }

        words.Add(Say($"One can at pH {can.PH:0.0} and {can.Strength:0.##} of the feed's strength keeps the {members.Count} pots inside their windows {members.Average(member => member.Shared.ShareInWindow.Value):0 %} of the time; {string.Join(", ", leaches)}."));
        words.Add(Say($"Treating them alike costs {lost:0.0} days a week on average; the one that loses most loses {members[0].DaysAWeekLost:0.0}."));
        if (members[0].DaysAWeekLost >= 1)
        {
            words.Add(Say($"A can of its own at pH {members[0].Own.PH:0.0} and {members[0].Own.Strength:0.##} of the strength would be worth it for that one."));
        }

        return words;
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
