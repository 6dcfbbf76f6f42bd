using System.Globalization;
using Rootwater.Growing.Evidence.Seasons;

namespace Rootwater.Growing.Evidence.Methods;

internal sealed class CircularMethod : IEvidenceMethod
{
    public string Name => "circular";

    public string Summary => "Directions or times of the year: mean, spread, Rayleigh's test, band of the mean.";

    public IReadOnlyList<MethodOption> Options { get; } =
    [
        new("angle", "column: angle, month or date", "angle"),
        new("unit", "deg, rad, hours, months (1 to 12, middle of equal months; grouped) or date (2025-03-14)", "deg"),
        new("weight", "column: how often each occurred", "once each"),
        new("grouped", "true: angles are the middles of groups; false: exact", "true for months, else false"),
        new("group-width", "width of the groups, in the unit", "1 month"),
    ];

    public EvidenceAnswer Run(MethodRun run)
    {
        var angle = run.Need("angle", "angle");
        var weight = run.Column("weight");
        run.KeepComplete(angle, weight);
        var unit = run.Choice("unit", "deg", "deg", "rad", "hours", "months", "date");
        var period = unit switch { "deg" => 360, "hours" => 24, "months" => 12, "date" => 365.25, _ => 2 * Math.PI };
        var raw = unit == "date" ? Dates(run.Table.Texts(angle), angle) : run.Table.Numbers(angle);
        var radians = raw.Select(x => 2 * Math.PI * (unit == "months" ? x - 0.5 : x) / period).ToArray();
        var grouped = run.Choice("grouped", unit == "months" ? "true" : "false", "true", "false") == "true";
        var width = run.Numbers("group-width", [1])[0] * 2 * Math.PI / period;
        var result = Circular.Summarise(radians, weight is null ? null : run.Table.Numbers(weight), grouped ? width : null);
        Write(run, result, unit, period);
        return run.Answer();
    }

    private static void Write(MethodRun run, CircularSummary result, string unit, double period)
    {
        var g = run.Label;
        const string method = "circular";
        run.Add(method, g, "n", result.N);
        run.Add(method, g, "C_sum", result.CosineSum);
        run.Add(method, g, "S_sum", result.SineSum);
        run.Add(method, g, "mean_rad", result.MeanRadians);
        var mean = result.MeanRadians * period / (2 * Math.PI);
        if (unit != "rad")
        {
            run.Add(method, g, "mean_" + (unit == "date" ? "days" : unit), mean);
        }

        run.Add(method, g, "Rbar", result.MeanLength);
        run.Add(method, g, "circ_variance", result.CircularVariance);
        run.Add(method, g, "angular_variance_2(1-R)", result.AngularVariance);
        run.Add(method, g, "circ_sd_rad", result.CircularStandardDeviation);
        run.Add(method, g, "angular_deviation_rad", result.AngularDeviation);
        if (result.CorrectedLength is { } corrected)
        {
            run.Add(method, g, "Rbar_grouped_corrected", corrected);
        }

        var testable = result.N >= 2;
        var few = testable ? null : "one value has no spread to test";
        run.Add(method, g, "rayleigh_z", result.RayleighZ);
        run.Add(method, g, "rayleigh_p_first_order", testable ? result.RayleighFirstOrder : null, few);
        run.Add(method, g, "rayleigh_p_series", testable ? result.RayleighSeries : null, few);
        run.Add(method, g, "rayleigh_p_zar", testable ? result.RayleighZar : null, few);
        if (result.CorrectedLength is null)
        {
            run.Add(method, g, "circ_dispersion", testable ? result.Dispersion : null, few);
            run.Add(method, g, "mean_se_fisher", testable ? result.MeanStandardError : null, few ?? "CI = mean ± asin(1.96 se)");
            run.Add(method, g, "kappa_ml", result.Kappa, result.Kappa is null ? "all angles are one" : null);
        }

        run.Say(Words(result, mean, period, unit));
        run.Assume("Independent, with one season a year; two seasons cancel and look like none.");
    }

    private static string Words(CircularSummary result, double? mean, double period, string unit)
    {
        if (!(result.N >= 2))
        {
            return "One value is a date, not yet a season.";
        }

        if (mean is null || result.RayleighZar > 0.2)
        {
            return "Too scattered round the year to speak of a season.";
        }

        var reach = result.Reach() * period / (2 * Math.PI);
        return FormattableString.Invariant($"Mean {mean:0.#} {unit}{(reach is { } r && r > 0 ? FormattableString.Invariant($", band ± {r:0.#}") : "")}, from {result.N} values.");
    }

    private static double[] Dates(string[] texts, string column) =>
        [.. texts.Select(text => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
            ? (date.DayOfYear - 0.5) * 365.25 / (DateTime.IsLeapYear(date.Year) ? 366 : 365)
            : throw new EvidenceInputException(column, text, "dates like 2025-03-14; a date known only to the month or year says too little about the season"))];
}
