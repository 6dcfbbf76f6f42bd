using Rootwater.Growing;

namespace Rootwater.Web.Components.Plots;

/// <summary>One value of a forecast over time, in the unit that is drawn.</summary>
/// <param name="Hours">Since the feed.</param>
/// <param name="Value">The value and its band.</param>
public readonly record struct PlotMoment(double Hours, Expected Value);

/// <summary>The geometry of a small plot: where hours and values fall in a drawing of 360 by 210, which on a phone is about its real size, so that its text stays above 11 px.</summary>
public sealed class BandPlot
{
    public const double Width = 360, Height = 210, Left = 40, Right = 350, Top = 14, Bottom = 178;

    private readonly IReadOnlyList<PlotMoment> _moments;

    public BandPlot(IReadOnlyList<PlotMoment> moments, Band? window, double leastSpan)
    {
        _moments = moments;
        Hours = moments.Count == 0 ? 1 : Math.Max(moments[^1].Hours, 1);
        var low = moments.Count == 0 ? 0 : moments.Min(moment => moment.Value.Low);
        var high = moments.Count == 0 ? 1 : moments.Max(moment => moment.Value.High);
        if (window is { } wanted)
            (low, high) = (Math.Min(low, wanted.Low), Math.Max(high, wanted.High));
        var spare = Math.Max((leastSpan - (high - low)) / 2, (high - low) * 0.08);
        (Low, High) = (low - spare, high + spare);
    }

    public double Hours { get; }
    public double Low { get; }
    public double High { get; }

    public double X(double hours) => Left + (Right - Left) * Math.Clamp(hours / Hours, 0, 1);

    public double Y(double value) => Bottom - (Bottom - Top) * Math.Clamp((value - Low) / (High - Low), 0, 1);

    /// <summary>The middle of the forecast.</summary>
    public string Line => string.Join(' ', _moments.Select(moment => Point(moment.Hours, moment.Value.Value)));

    /// <summary>Its band as a closed shape: along the upper edge, back along the lower.</summary>
    public string Band => string.Join(' ', _moments.Select(moment => Point(moment.Hours, moment.Value.High))
        .Concat(_moments.Reverse().Select(moment => Point(moment.Hours, moment.Value.Low))));

    /// <summary>Three to six round values inside the plot.</summary>
    public IReadOnlyList<double> Ticks => Figures.Ticks(Low, High);

    private string Point(double hours, double value) => $"{Figures.N(X(hours))},{Figures.N(Y(value))}";
}
