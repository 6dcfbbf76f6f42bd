using Rootwater.Growing.Evidence.Comparisons;
using Rootwater.Growing.Evidence.Numbers;
using Rootwater.Growing.Evidence.Series;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

// Series before and after a day, and each plant against itself.
public sealed partial class EvidenceDesk
{
    private const int FewestMonths = 6;
    private const int MostMonths = 36;
    private const int WashoutMonths = 1;

    public Task<SeriesAnswer> SeriesAsync(SeriesQuestion question, CancellationToken cancel = default) =>
        OnGroupAsync($"series {question.Of} {question.Since} {string.Join(",", question.BackOn ?? [])}", question.Plants, async (group, _) =>
        {
            if (question.Since is { } asked)
            {
                CheckSince(asked, group.Plants, group.Today);
            }

            DateOnly[] switches = question.Since is { } first ? [first, .. question.BackOn ?? []] : [];
            if (question.BackOn is { Count: > 0 } && (question.Since is null || !switches.SequenceEqual(switches.Distinct().Order()) || switches[^1] >= group.Today))
            {
                throw new EntryException("back on", string.Join(", ", question.BackOn.Select(day => FactWords.Say($"{day:yyyy-MM-dd}"))), "days in order, after the first change and before today");
            }

            var feeds = await FeedsAsync(group.Plants);
            var series = MonthlySeries.Of(question.Of, group.Plants, feeds, group.Today);
            var also = question.Since is { } day ? Confounders.Around(day, group.Today, group.Plants, feeds, await AirAsync()) : [];
            return Answer(group, question, series, switches, also);
        }, cancel);

    private static SeriesAnswer Answer(Group group, SeriesQuestion question, MonthlySeries series, DateOnly[] switches, IReadOnlyList<Confounder> also)
    {
        var says = new List<string>();
        var (firstMonth, means, counts) = series.Course();
        if (switches.Length == 1 && means.Length > 0)
        {
            // Three years to either side: further away the straight lines are no longer straight.
            var change = MonthlySeries.Index(switches[0]) - firstMonth;
            var (low, high) = (Math.Clamp(change - MostMonths, 0, means.Length), Math.Clamp(change + MostMonths, 0, means.Length));
            (firstMonth, means, counts) = (firstMonth + low, means[low..Math.Max(low, high)], counts[low..Math.Max(low, high)]);
        }

        var known = means.Count(value => value is not null);
        var (values, filled) = Filled(means);
        if (filled > 0)
        {
            says.Add($"{filled} months without a value were put on the straight line between their neighbours.");
        }

        var figures = new List<SeriesFigure>();
        double[]? fitted = null;
        var pairs = Pairs(series, switches);
        IReadOnlyList<DateOnly> points = [];
        string words;
        if (known < 2 * FewestMonths || filled > means.Length / 2)
        {
            words = FactWords.Say($"{known} months with values are too few for a series: {2 * FewestMonths} are the least, {FewestMonths} to either side of a change.");
        }
        else if (switches.Length == 1)
        {
            var before = MonthlySeries.Index(switches[0]) - firstMonth;
            (words, fitted) = before < FewestMonths || values.Length - before < FewestMonths
                ? (FactWords.Say($"{Math.Max(0, before)} months before and {Math.Max(0, values.Length - before)} since: {FewestMonths} to either side are the least."), null)
                : Interrupted(values, before, firstMonth, series.Unit, figures, says);
        }
        else
        {
            points = switches.Length > 0 ? [] : Shifts(values, firstMonth);
            words = switches.Length > 0 ? "" : Drift(values, series.Unit, figures) + (points.Count == 0 ? " No shift stands out." : FactWords.Say($" Shifts stand out at {string.Join(", ", points.Select(point => FactWords.Say($"{point:yyyy-MM}")))}."));
        }

        if (switches.Length > 0)
        {
            words = Join(words, Paired(pairs, switches.Length > 1, series.Unit, figures));
        }

        var months = means.Select((mean, i) => new SeriesMonth(MonthlySeries.First(firstMonth + i), mean, fitted?[i], counts[i])).ToList();
        return new SeriesAnswer(group.Who, question.Of, series.Unit, question.Since, words, months, figures, pairs, points, also, says, Basis(group, switches.Length, known));
    }

    private static EvidenceBasis Basis(Group group, int switches, int months) => switches switch
    {
        0 => new EvidenceBasis("Theil–Sen slope, Mann–Kendall test; shifts by least squares and the Bayes criterion; monthly means, each plant's own level taken out", ["Months are taken as independent: where they hang together the p is too small."], group.Plants.Count, months, 0),
        1 => new EvidenceBasis("segmented regression of monthly means (level, slope, season), errors by Newey–West and by a first-order autoregression, the larger counts; each plant against itself by a paired t test and by all sign changes", ["Without the change the line would have gone on.", "Nothing else changed."], group.Plants.Count, months, 0),
        _ => new EvidenceBasis("crossover: each plant's mean under both feeds, the first month of each period left out; paired t test and all sign changes", ["What a feed did is gone a month after it ended.", "Nothing else went back and forth with it."], group.Plants.Count, months, 0),
    };

    private static (double[] Values, int Filled) Filled(double?[] means)
    {
        var values = new double[means.Length];
        var filled = 0;
        for (var i = 0; i < means.Length; i++)
        {
            if (means[i] is { } there)
            {
                values[i] = there;
                continue;
            }

            filled++;
            var left = i;
            while (left >= 0 && means[left] is null)
            {
                left--;
            }

            var right = i;
            while (right < means.Length && means[right] is null)
            {
                right++;
            }

            values[i] = left < 0 ? means[Math.Min(right, means.Length - 1)] ?? 0 : right >= means.Length ? means[left]!.Value : means[left]!.Value + (means[right]!.Value - means[left]!.Value) * (i - left) / (right - left);
        }

        return (values, filled);
    }

    private static (string Words, double[]? Fitted) Interrupted(double[] values, int before, int firstMonth, string unit, List<SeriesFigure> figures, List<string> says)
    {
        var plain = SeriesRequest.Interrupted(values, before);
        var seasons = values.Length >= 24;
        double Angle(int i) => 2 * Math.PI * ((firstMonth + i) % 12) / 12;
        var request = !seasons ? plain : plain with
        {
            Names = [.. plain.Names, "cos", "sin"],
            Covariates = [.. plain.Covariates, [.. values.Select((_, i) => Math.Cos(Angle(i)))], [.. values.Select((_, i) => Math.Sin(Angle(i)))]],
        };
        var fit = LinearSeries.Ordinary(request);
        if (fit.Cannot is { } cannot || fit.Coefficients is not { } coefficients || values.Max() - values.Min() < 1e-9)
        {
            return (fit.Cannot ?? "The value never changes: no step, and no scatter from which to judge how small a step would have been seen.", null);
        }

        var lags = Math.Max(2, (int)Math.Floor(4 * Math.Pow(values.Length / 100.0, 2.0 / 9)));
        var newey = LinearSeries.NeweyWest(request, lags);
        var auto = LinearSeries.Autoregressive(request, restricted: true);
        says.Add(FactWords.Say($"Neighbouring months hang together by {fit.Lag1Autocorrelation:0.00} (Durbin–Watson {fit.DurbinWatson:0.0}); errors allow for it. {(seasons ? "A yearly wave was taken out." : "Too short to take a yearly wave out.")}"));
        var df = values.Length - coefficients.Length;
        SeriesFigure Figure(int index, string name, string per)
        {
            var error = Math.Max(newey[index], auto.StandardErrors is { } own && auto.Cannot is null && double.IsFinite(own[index]) ? own[index] : 0);
            var value = coefficients[index];
            var reach = Tails.StudentFor(0.95, df) * error;
            return error > 0 && double.IsFinite(error)
                ? new SeriesFigure(name, per, value, value - reach, value + reach, Tails.StudentTwoSided(value / error, df), FactWords.Say($"{name}: {value:0.###} {per} ({value - reach:0.###} to {value + reach:0.###}). {SurvivalWords.Chance(Tails.StudentTwoSided(value / error, df))}"))
                : new SeriesFigure(name, per, value, null, null, null, FactWords.Say($"{name}: {value:0.###} {per}; its error cannot be told."));
        }

        var step = Figure(2, "step at the change", unit);
        figures.Add(step);
        figures.Add(Figure(3, "change of slope", unit + " per month"));
        var fitted = values.Select((_, i) => coefficients[0] + request.Covariates.Select((column, j) => coefficients[j + 1] * column[i]).Sum()).ToArray();
        return ((step.P <= 0.05 ? "" : "Too early to tell: ") + step.Words, fitted);
    }

    private static string Drift(double[] values, string unit, List<SeriesFigure> figures)
    {
        var trend = Trend.Fit([.. values.Select((_, i) => (double)i)], values);
        if (trend.Cannot is { } cannot)
        {
            return cannot;
        }

        var (slope, p) = (12 * trend.Slope!.Value, trend.PExact ?? trend.P!.Value);
        var figure = new SeriesFigure("drift", unit + " per year", slope, 12 * trend.GilbertInterval?.Lower, 12 * trend.GilbertInterval?.Upper, p, FactWords.Say($"{(p <= 0.05 ? "It drifts" : "No drift that chance would not give")}: {slope:0.###} {unit} a year. {SurvivalWords.Chance(p)}"));
        figures.Add(figure);
        return figure.Words;
    }

    private static IReadOnlyList<DateOnly> Shifts(double[] values, int firstMonth)
    {
        if (values.Length < 2 * FewestMonths || values.Max() - values.Min() < 1e-9)
        {
            return [];
        }

        return [.. ChangePoints.Segment(values, FewestMonths, 4).MinBy(segmentation => segmentation.Bic)!.LastBefore.Select(last => MonthlySeries.First(firstMonth + last))];
    }

    /// <summary>Each plant's mean of the months before and since (a year each), or under both feeds of a crossover.</summary>
    private static List<PlantPair> Pairs(MonthlySeries series, DateOnly[] switches)
    {
        if (switches.Length == 0)
        {
            return [];
        }

        var bounds = switches.Select(MonthlySeries.Index).ToArray();
        var pairs = new List<PlantPair>();
        foreach (var (plant, values) in series.Values)
        {
            var (first, second) = (new List<double>(), new List<double>());
            foreach (var (month, value) in values)
            {
                var period = bounds.Count(bound => month >= bound);
                // The month of a switch and the one after it hold some of both feeds.
                var washing = period > 0 && month - bounds[period - 1] <= (bounds.Length > 1 ? WashoutMonths : 0);
                var far = bounds.Length == 1 ? Math.Abs(month - bounds[0]) > 12 : period == 0 && bounds[0] - month > 12;
                if (!washing && !far)
                {
                    (period % 2 == 0 ? first : second).Add(value);
                }
            }

            if (first.Count >= 2 && second.Count >= 2)
            {
                pairs.Add(new PlantPair(plant.Number, first.Average(), second.Average()));
            }
        }

        return [.. pairs.OrderBy(pair => pair.Plant)];
    }

    private static string Paired(List<PlantPair> pairs, bool crossover, string unit, List<SeriesFigure> figures)
    {
        var name = crossover ? "second feed less first, plant by plant" : "year since less year before, plant by plant";
        if (pairs.Count < 2)
        {
            return FactWords.Say($"{pairs.Count} plants have values on both sides, too few to set each against itself.");
        }

        var differences = pairs.Select(pair => pair.Second - pair.First).ToList();
        var test = Growing.Evidence.Comparisons.Paired.Compare(differences);
        var flips = Permutation.SignFlips(differences);
        if (test.Cannot is { } cannot)
        {
            return cannot;
        }

        // The sign changes need no bell curve; the t test gives the interval.
        var p = pairs.Count >= 6 ? Math.Max(test.P!.Value, flips.TwoSided) : test.P!.Value;
        var figure = new SeriesFigure(name, unit, test.MeanDifference, test.Lower95, test.Upper95, p,
            FactWords.Say($"{(p <= 0.05 ? "" : "Too early to tell: ")}{name}: {test.MeanDifference:0.###} {unit} ({test.Lower95:0.###} to {test.Upper95:0.###}, {test.Positive} of {pairs.Count} plants up). {SurvivalWords.Chance(p)}"));
        figures.Add(figure);
        return figure.Words;
    }

    private static string Join(string first, string second) => first.Length == 0 ? second : first + " " + second;
}
