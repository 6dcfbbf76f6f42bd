using Microsoft.AspNetCore.Components;
using Rootwater.Growing;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Components.Plots;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Plant;

/// <summary>A plant's whole life on one page: drawn by the server, so that it is there at once and prints; what is entered goes through its door.</summary>
public sealed partial class PlantPage
{
    private PlantLife? _life;
    private LifeChart? _chart;
    private DateOnly _today;
    private IReadOnlyList<NutrientWeek> _weeks = [];
    private IReadOnlyList<ReadingView> _readings = [];
    private PlantWindow? _window;
    private PlantArm? _arm;
    private double _mostMilligrams;
    private Band? _ecWindow;
    private (double Low, double High) _pHSpan;
    private (double Low, double High) _ecSpan;
    private IReadOnlyList<SeriesPlot.Point> _pHPoints = [];
    private IReadOnlyList<SeriesPlot.Point> _ecPoints = [];
    private IReadOnlyList<SeriesPlot.Series> _forecasts = [];
    private IReadOnlyList<SeriesPlot.Series> _ecForecasts = [];

    [Parameter] public int Number { get; set; }

    [Inject] private IHttpContextAccessor Context { get; set; } = null!;
    [Inject] private IPlantDesk Desk { get; set; } = null!;
    [Inject] private INutrientLedger Nutrients { get; set; } = null!;
    [Inject] private IReadingDesk ReadingDesk { get; set; } = null!;
    [Inject] private ISettingsDesk Settings { get; set; } = null!;
    [Inject] private ITrialDesk Trials { get; set; } = null!;

    private string Path => $"/plants/{Number}";

    private IReadOnlyList<int> WeekYears => [.. _weeks.Select(week => week.Monday.Year).Distinct()];

    private IReadOnlyList<int> RootYears => [.. _readings.Select(reading => reading.At.Year).Concat(_weeks.Where(week => week.ForecastRootPH is not null).Select(week => week.Monday.Year)).Distinct()];

    private string LifeAlt => T["LifeAlt", _life!.Growths.Sum(growth => growth.Leaves.Count), _life.Growths.Sum(growth => growth.Leaves.Count(leaf => leaf.ThereOnArrival)),
        _life.Growths.Sum(growth => growth.Leaves.Count(leaf => leaf.Lost is not null)), _life.Growths.Sum(growth => growth.Spikes.Count(spike => spike.FirstFlower is not null))];

    protected override Task OnInitializedAsync() => AttemptAsync(async () =>
    {
        _life = await Desk.GetByNumberAsync(Number, Leaving);
        if (_life is null)
            return;
        var id = _life.Card.Id;
        PlantDoor.Lend(Context.HttpContext, _life);
        _today = (await Settings.GetAsync(Leaving)).Today;
        _weeks = await Nutrients.OfPlantAsync(id, cancel: Leaving);
        _readings = _life.Readings;
        _window = await ReadingDesk.WindowAsync(id, Leaving);
        _arm = (await Trials.ArmsAsync(Leaving)).GetValueOrDefault(id);
        _chart = LifeChart.Of(_life, _today, Say, T);
        _mostMilligrams = _weeks.Select(week => WeeksPlot.Stack.Sum(symbol => WeeksPlot.Of(week, symbol))).DefaultIfEmpty(1).Max();
        _pHPoints = [.. _readings.Where(reading => reading.PH is not null).Select(reading => new SeriesPlot.Point(DateOnly.FromDateTime(reading.At), reading.PH!.Value, $"{Show.ShortDay(DateOnly.FromDateTime(reading.At))}, {Say.Of(reading.Of)}: pH {Show.PH(reading.PH.Value)}", reading.Of != Ledger.Facts.ReadingOf.Reservoir))];
        _ecPoints = [.. _readings.Where(reading => reading.EcMicrosiemensPerCm is not null).Select(reading => new SeriesPlot.Point(DateOnly.FromDateTime(reading.At), Shown(reading.EcMicrosiemensPerCm!.Value), $"{Show.ShortDay(DateOnly.FromDateTime(reading.At))}, {Say.Of(reading.Of)}: EC {Units.EcWords(reading.EcMicrosiemensPerCm.Value)}", reading.Of != Ledger.Facts.ReadingOf.Reservoir))];
        _forecasts = [new SeriesPlot.Series("p-line", [.. _weeks.Where(week => week.ForecastRootPH is not null).Select(week => (week.Monday.AddDays(3), week.ForecastRootPH!.Value))])];
        _ecForecasts = [new SeriesPlot.Series("p-line", [.. _weeks.Where(week => week.ForecastRootEcMicrosiemensPerCm is not null).Select(week => (week.Monday.AddDays(3), Shown(week.ForecastRootEcMicrosiemensPerCm!.Value)))])];
        _ecWindow = _window is { } window ? new Band(Shown(window.EcMicrosiemensPerCm.Low), Shown(window.EcMicrosiemensPerCm.Ideal), Shown(window.EcMicrosiemensPerCm.High)) : null;
        _pHSpan = SeriesPlot.Span(_pHPoints.Select(point => point.Value).Concat(_forecasts[0].Points.Select(point => point.Value)), _window?.RootPH, 1.2);
        _ecSpan = SeriesPlot.Span(_ecPoints.Select(point => point.Value).Concat(_ecForecasts[0].Points.Select(point => point.Value)), _ecWindow, Shown(400));
    });

    private double Shown(double microsiemensPerCm) => Units.Units.Ec.FromMicrosiemens(microsiemensPerCm);

    private double MeanOf(int year, string symbol) => _weeks.Where(week => week.Monday.Year == year).Select(week => WeeksPlot.Of(week, symbol)).DefaultIfEmpty(0).Average();

    private string PHAlt(int year) => Alt(year, _pHPoints, "pH", "0.0");

    private string EcAlt(int year) => Alt(year, _ecPoints, "EC, " + Units.EcUnit, "0.00");

    private string Alt(int year, IReadOnlyList<SeriesPlot.Point> points, string what, string format)
    {
        var inside = points.Where(point => point.Day.Year == year).Select(point => point.Value).ToList();
        return inside.Count == 0
            ? T["SeriesNone", what, year]
            : T["SeriesAlt", what, year, inside.Count, inside.Min().ToString(format, System.Globalization.CultureInfo.InvariantCulture), inside.Max().ToString(format, System.Globalization.CultureInfo.InvariantCulture)];
    }
}
