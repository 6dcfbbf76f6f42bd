using System.Globalization;
using Microsoft.AspNetCore.Components;

namespace Rootwater.Web.Components.Plots;

/// <summary>Numbers as SVG takes them.</summary>
public static class Figures
{
    public static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>A word in a plot, as text: a page of plots has a thousand of them, and Razor keeps the tag for itself.</summary>
    /// <param name="x">Across, in the drawing's own units.</param>
    /// <param name="y">Down to the foot of the letters.</param>
    /// <param name="words">What it says, as plain text.</param>
    /// <param name="anchor">Which part of it stands at x: start, middle or end.</param>
    /// <param name="css">Its class.</param>
    public static MarkupString Label(double x, double y, string words, string anchor = "start", string? css = null) => new(
        $"<text x=\"{N(x)}\" y=\"{N(y)}\" text-anchor=\"{anchor}\"{(css is null ? "" : $" class=\"{css}\"")}>{Markup.Encode(words)}</text>");

    /// <summary>Three to six round values from low to high.</summary>
    public static IReadOnlyList<double> Ticks(double low, double high)
    {
        if (!(high > low))
            return [low];
        var rough = (high - low) / 4;
        var magnitude = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var step = magnitude * ((rough / magnitude) switch { < 1.5 => 1, < 3.5 => 2, < 7.5 => 5, _ => 10 });
        var first = Math.Ceiling(low / step - 1e-9) * step;
        return [.. Enumerable.Range(0, 8).Select(i => Math.Round(first + i * step, 9)).Where(tick => tick <= high + 1e-9)];
    }
}

/// <summary>Where days fall across a drawing.</summary>
/// <param name="From">First day.</param>
/// <param name="To">Last day.</param>
/// <param name="Left">Where the first day begins.</param>
/// <param name="Right">Where the last day ends.</param>
public sealed record DayAxis(DateOnly From, DateOnly To, double Left, double Right)
{
    public double X(DateOnly day) => Left + (Right - Left) * Math.Clamp((day.DayNumber - From.DayNumber) / Days, 0, 1);

    /// <summary>Where a day ends.</summary>
    public double End(DateOnly day) => Left + (Right - Left) * Math.Clamp((day.DayNumber + 1 - From.DayNumber) / Days, 0, 1);

    public bool Meets(DateOnly from, DateOnly to) => to >= From && from <= To;

    /// <summary>First days of the years inside.</summary>
    public IEnumerable<DateOnly> Years => Enumerable.Range(From.Year, To.Year - From.Year + 1).Select(year => new DateOnly(year, 1, 1)).Where(day => day >= From && day <= To);

    /// <summary>First days of the months inside.</summary>
    public IEnumerable<DateOnly> Months
    {
        get
        {
            for (var day = new DateOnly(From.Year, From.Month, 1); day <= To; day = day.AddMonths(1))
            {
                if (day >= From)
                    yield return day;
            }
        }
    }

    private double Days => Math.Max(1, To.DayNumber - From.DayNumber + 1);
}
