using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Rates;

/// <summary>Events counted over a time under watch.</summary>
/// <param name="Events">How many.</param>
/// <param name="Time">Over how long, in any unit (leaf-years, plant-months).</param>
public readonly record struct EventCount(int Events, double Time)
{
    internal void Check(string field)
    {
        if (Events < 0)
        {
            throw new EvidenceInputException($"{field} events", Events, "0 or more");
        }

        if (!(Time > 0) || !double.IsFinite(Time))
        {
            throw new EvidenceInputException($"{field} time", Time, "a time above 0");
        }
    }
}

/// <summary>Two rates compared: the first over the second.</summary>
public sealed record RateRatio
{
    /// <summary>Null where neither has an event; infinite where only the first has.</summary>
    public double? Ratio { get; init; }

    /// <summary>Null where neither has an event.</summary>
    public ExactP? P { get; init; }

    /// <summary>Agrees with the central p.</summary>
    public Interval? Exact { get; init; }

    /// <summary>Agrees with the mid-p.</summary>
    public Interval? MidP { get; init; }

    /// <summary>What cannot be said, in a sentence.</summary>
    public string? Cannot { get; init; }
}

/// <summary>One rate against a stated one.</summary>
public sealed record SingleRate(double Rate, ExactP? P, Interval Garwood);

/// <summary>
/// Exact statements on rates of rare events. The ratio is conditional on the total: the first count is binomial with odds ratio × time ratio
/// (Przyborowski and Wilenski 1940). One rate: Garwood 1936.
/// </summary>
public static class PoissonRates
{
    public static RateRatio Compare(EventCount first, EventCount second, double nullRatio = 1, double level = 0.95)
    {
        first.Check("first");
        second.Check("second");
        if (!(nullRatio > 0))
        {
            throw new EvidenceInputException("null ratio", nullRatio, "a ratio above 0");
        }

        var total = first.Events + second.Events;
        if (total == 0)
        {
            return new RateRatio { Cannot = FormattableString.Invariant($"No event in either group, so nothing can be said of their ratio. With 95 in 100 certainty the first rate is below {OneSided(first.Time):0.###} and the second below {OneSided(second.Time):0.###} per unit of time.") };
        }

        var share = nullRatio * first.Time / (nullRatio * first.Time + second.Time);
        var exact = ExactBinomial.ClopperPearson(first.Events, total, level);
        var mid = ExactBinomial.MidP(first.Events, total, level);
        double ToRatio(double p) => p >= 1 ? double.PositiveInfinity : p / (1 - p) * second.Time / first.Time;
        return new RateRatio
        {
            Ratio = second.Events == 0 ? double.PositiveInfinity : first.Events / first.Time / (second.Events / second.Time),
            P = ExactBinomial.Test(first.Events, total, share),
            Exact = new Interval(ToRatio(exact.Lower), ToRatio(exact.Upper)),
            MidP = new Interval(ToRatio(mid.Lower), ToRatio(mid.Upper)),
        };
    }

    /// <summary>One rate: the exact interval, and the chance of so many events had the rate been the stated one.</summary>
    public static SingleRate One(EventCount count, double? stated = null, double level = 0.95)
    {
        count.Check("one");
        var tail = (1 - level) / 2;
        var x = count.Events;
        var lower = x == 0 ? 0 : Roots.Bisect(mean => AtLeast(x, mean) - tail, 0, x) / count.Time;
        var high = x + 10 + 10 * Math.Sqrt(x + 1);
        var upper = Roots.Bisect(mean => AtMost(x, mean) - tail, x, high) / count.Time;
        ExactP? p = null;
        if (stated is { } rate)
        {
            if (!(rate >= 0))
            {
                throw new EvidenceInputException("r0", rate, "a rate of 0 or more");
            }

            p = Test(x, rate * count.Time);
        }

        return new SingleRate(x / count.Time, p, new Interval(lower, upper));
    }

    private static ExactP Test(int x, double mean)
    {
        var seen = Math.Exp(Gammas.LogPoisson(x, mean));
        var less = AtMost(x, mean);
        var greater = AtLeast(x, mean);
        var minimum = x >= mean ? greater : less;
        // The other side: all counts there that are no likelier than the one seen. Beyond the last of them they only get rarer.
        if (x > mean)
        {
            for (var i = 0; i < mean; i++)
            {
                var here = Math.Exp(Gammas.LogPoisson(i, mean));
                minimum += here <= seen * (1 + 1e-7) ? here : 0;
            }
        }
        else if (x < mean)
        {
            var last = (int)Math.Ceiling(mean + 40 + 15 * Math.Sqrt(mean));
            for (var i = (int)Math.Ceiling(mean); i <= last; i++)
            {
                var here = Math.Exp(Gammas.LogPoisson(i, mean));
                minimum += here <= seen * (1 + 1e-7) ? here : 0;
            }
        }
        else
        {
            minimum = 1;
        }

        return new ExactP(less, greater, Math.Min(1, 2 * Math.Min(less, greater)), Math.Min(1, minimum), less - seen / 2, greater - seen / 2);
    }

    /// <summary>Both tails are summed as themselves: the tail of a far rarer outcome keeps its digits.</summary>
    private static double AtMost(int x, double mean)
    {
        var sum = 0.0;
        for (var i = 0; i <= x; i++)
        {
            sum += Math.Exp(Gammas.LogPoisson(i, mean));
        }

        return Math.Min(1, sum);
    }

    private static double AtLeast(int x, double mean)
    {
        if (x == 0)
        {
            return 1;
        }

        if (x <= mean)
        {
            return 1 - AtMost(x - 1, mean);
        }

        var sum = 0.0;
        for (var i = x; ; i++)
        {
            var here = Math.Exp(Gammas.LogPoisson(i, mean));
            sum += here;
            if (here <= sum * 1e-18)
            {
                return sum;
            }
        }
    }

    /// <summary>The rate at which no event in this time still happens one time in twenty: 3.0/time (the rule of three).</summary>
    private static double OneSided(double time) => -Math.Log(0.05) / time;
}
