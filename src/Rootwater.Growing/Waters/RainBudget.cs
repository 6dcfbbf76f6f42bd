using System.Globalization;

namespace Rootwater.Growing.Waters;

/// <summary>What the rain budget needs.</summary>
public sealed record RainBudgetRequest
{
    /// <summary>Roof that drains into the barrel, m² seen from above (0.1 to 10,000).</summary>
    public required double RoofSquareMetres { get; init; }

    /// <summary>Share of the rain that reaches the barrel. 0.8: gutters splash and overflow; common practice, no source.</summary>
    public double RunOffShare { get; init; } = 0.8;

    /// <summary>First millimetres of each wet spell that only wash the roof.</summary>
    public double FirstFlushMillimetres { get; init; } = 0.5;

    /// <summary>What the barrels hold, litres.</summary>
    public required double BarrelLitres { get; init; }

    /// <summary>What is in them today, litres.</summary>
    public required double LitresToday { get; init; }

    /// <summary>Rain of past days, mm; as many years as there are. A gap is a day without a record.</summary>
    public required IReadOnlyDictionary<DateOnly, double> RainMillimetres { get; init; }

    /// <summary>What the coming rounds take, litres by day.</summary>
    public required IReadOnlyDictionary<DateOnly, double> Wanted { get; init; }
    public required DateOnly Today { get; init; }

    internal void Check()
    {
        static void Within(string field, double value, double low, double high)
        {
            if (!(value >= low && value <= high))
            {
                throw new ArgumentException(FormattableString.Invariant($"{field}: {value} cannot be used; expected {low} to {high}."));
            }
        }

        Within("roofSquareMetres", RoofSquareMetres, 0.1, 10000);
        Within("runOffShare", RunOffShare, 0.05, 1);
        Within("firstFlushMillimetres", FirstFlushMillimetres, 0, 10);
        Within("barrelLitres", BarrelLitres, 1, 1e6);
        Within("litresToday", LitresToday, 0, BarrelLitres);
        foreach (var (day, millimetres) in RainMillimetres)
        {
            Within($"rain on {day:yyyy-MM-dd} (mm)", millimetres, 0, 500);
        }

        foreach (var (day, litres) in Wanted)
        {
            Within($"wanted on {day:yyyy-MM-dd} (litres)", litres, 0, 1e5);
        }
    }
}

/// <summary>Rain against what the rounds want.</summary>
/// <param name="Levels">By day: low, middle, high of what is in the barrels over the years of the record (10, 50, 90 %), litres.</param>
/// <param name="ChanceOfEmpty">Share of the record's years in which it would not last.</param>
/// <param name="EmptyFrom">The earliest day on which it would run dry in one year of ten; null in none.</param>
/// <param name="ShortLitres">What would be missing over the time: low, middle, high.</param>
/// <param name="Years">How many years the record holds for these weeks.</param>
/// <param name="Words">In a sentence.</param>
public sealed record RainOutlook(IReadOnlyList<(DateOnly Day, Expected Litres)> Levels, double ChanceOfEmpty, DateOnly? EmptyFrom, Expected ShortLitres, int Years, string Words);

/// <summary>The rain budget: roof area times the rain record against the coming rounds.</summary>
/// <remarks>Each year of the record is run through the same days of this year from what is in the barrels today. One millimetre on one square metre is one litre. Evaporation from a lidded barrel is left out.</remarks>
public static class RainBudget
{
    private const double DryDayMillimetres = 0.1;

    // A year whose record has more gaps than this among the days asked says nothing.
    private const double MostMissingShare = 0.2;

    /// <summary>Looks ahead to the last day anything is wanted on.</summary>
    /// <exception cref="ArgumentException">Something given cannot be used; it names the field.</exception>
    public static RainOutlook Of(RainBudgetRequest request)
    {
        request.Check();
        var last = request.Wanted.Count == 0 ? request.Today : request.Wanted.Keys.Max();
        var days = Enumerable.Range(0, Math.Max(1, last.DayNumber - request.Today.DayNumber + 1)).Select(request.Today.AddDays).ToList();
        var runs = new List<(double[] Levels, double Short)>();
        var years = request.RainMillimetres.Keys.Select(day => day.Year).Distinct().Order();
        foreach (var year in years)
        {
            if (Run(request, days, year) is { } run)
            {
                runs.Add(run);
            }
        }

        if (runs.Count == 0)
        {
            throw new ArgumentException("rain record: no year of it covers these days; expected daily millimetres for at least one.");
        }

        static double Quantile(double[] values, double quantile)
        {
            Array.Sort(values);
            return values[(int)Math.Round(quantile * (values.Length - 1))];
        }

        Expected Over(Func<(double[] Levels, double Short), double> of) =>
            new(Quantile([.. runs.Select(of)], 0.1), Quantile([.. runs.Select(of)], 0.5), Quantile([.. runs.Select(of)], 0.9));
        var levels = days.Select((day, i) => (day, Over(run => run.Levels[i]))).ToList();
        var empty = runs.Count(run => run.Short > 0) / (double)runs.Count;
        DateOnly? from = levels.FirstOrDefault(level => level.Item2.Low <= 0) is { day: var first } && first != default ? first : null;
        var words = empty == 0
            ? Say($"In each of {runs.Count} years on record the rain would last to {last:d MMMM yyyy}.")
            : Say($"In {runs.Count(run => run.Short > 0)} of {runs.Count} years on record the barrel would run dry before {last:d MMMM yyyy}; {runs.Max(run => run.Short):0} L of other water would see it through the driest of them.");
        return new RainOutlook(levels, empty, empty > 0 ? from : null, Over(run => run.Short), runs.Count, words);
    }

    private static (double[] Levels, double Short)? Run(RainBudgetRequest request, List<DateOnly> days, int year)
    {
        var (level, missing, absent, dry) = (request.LitresToday, 0.0, 0, true);
        var levels = new double[days.Count];
        for (var i = 0; i < days.Count; i++)
        {
            if (RainOn(request, days[i], year + (days[i].Year - request.Today.Year)) is not { } rain)
            {
                absent++;
                rain = 0;
            }

            var flush = dry ? request.FirstFlushMillimetres : 0;
            dry = rain < DryDayMillimetres;
            level = Math.Min(request.BarrelLitres, level + Math.Max(0, rain - flush) * request.RoofSquareMetres * request.RunOffShare);
            level -= request.Wanted.GetValueOrDefault(days[i]);
            missing += Math.Max(0, -level);
            level = Math.Max(0, level);
            levels[i] = level;
        }

        return absent > MostMissingShare * days.Count ? null : (levels, missing);
    }

    private static double? RainOn(RainBudgetRequest request, DateOnly day, int year) =>
        request.RainMillimetres.TryGetValue(new DateOnly(year, day.Month, Math.Min(day.Day, DateTime.DaysInMonth(year, day.Month))), out var rain) ? rain : null;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
