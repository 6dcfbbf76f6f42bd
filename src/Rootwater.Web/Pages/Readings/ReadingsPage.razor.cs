using System.Globalization;
using Microsoft.AspNetCore.Components;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Climate;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Components.Plots;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Readings;

/// <summary>What the pens and sensors read, with the plant's own window behind it; air and light of a place by day.</summary>
public sealed partial class ReadingsPage
{
    private const int MostShown = 150;
    private static readonly CultureInfo s_english = CultureInfo.GetCultureInfo("en");

    private DateOnly _today;
    private DateOnly _from;
    private DateOnly _to;
    private IReadOnlyList<Place> _places = [];
    private ReadingView? _right;
    private Place? _place;
    private PlantCard? _card;
    private PlantWindow? _window;
    private Band? _ecWindow;
    private Lamp _lamp = Lamp.Sun;
    private IReadOnlyList<ReadingView> _readings = [];
    private IReadOnlyList<ReadingView> _pot = [];
    private IReadOnlyList<AirDayView> _air = [];
    private IReadOnlyList<SeriesPlot.Point> _pHPoints = [];
    private IReadOnlyList<SeriesPlot.Point> _ecPoints = [];
    private IReadOnlyList<SeriesPlot.Series> _airLines = [];
    private IReadOnlyList<SeriesPlot.Series> _vpdLines = [];
    private IReadOnlyList<SeriesPlot.Series> _dliLines = [];
    private (double Low, double High) _pHSpan, _ecSpan, _airSpan, _vpdSpan, _dliSpan;

    [SupplyParameterFromQuery] private string? Plant { get; set; }
    [SupplyParameterFromQuery(Name = "of")] private string? OfWhat { get; set; }
    [SupplyParameterFromQuery] private string? Year { get; set; }
    [SupplyParameterFromQuery] private string? Place { get; set; }
    [SupplyParameterFromQuery] private string? Right { get; set; }

    [Inject] private IReadingDesk Desk { get; set; } = null!;
    [Inject] private NavigationManager Navigation { get; set; } = null!;
    [Inject] private IPlantDesk Plants { get; set; } = null!;
    [Inject] private ISettingsDesk Settings { get; set; } = null!;

    protected override Task OnInitializedAsync() => AttemptAsync(async () =>
    {
        _today = (await Settings.GetAsync(Leaving)).Today;
        (_from, _to) = int.TryParse(Year, CultureInfo.InvariantCulture, out var year) && year is > 1900 and < 3000
            ? (new DateOnly(year, 1, 1), new DateOnly(year, 12, 31))
            : (_today.AddDays(-364), _today);
        _places = await Plants.PlacesAsync(Leaving);
        _place = _places.FirstOrDefault(place => place.Id.ToString() == Place) ?? (_places.Count > 0 ? _places[0] : null);
        if (!string.IsNullOrWhiteSpace(Plant))
        {
            _card = int.TryParse(Plant, CultureInfo.InvariantCulture, out var number) ? (await Plants.ListAsync(new BenchQuery { WithLost = true }, Leaving)).FirstOrDefault(card => card.Number == number) : null;
            if (_card is null)
                throw new EntryException("plant", Plant, "the number on the tag of a plant here.");
            _window = await Desk.WindowAsync(_card.Id, Leaving);
        }

        _readings = await Desk.ListAsync(new ReadingQuery { PlantId = _card?.Id, Of = Enum.TryParse<ReadingOf>(OfWhat, out var of) ? of : null, From = _from, To = _to, Most = 3000 }, Leaving);
        _right = Right is null ? null : _readings.FirstOrDefault(reading => reading.Id.ToString() == Right && reading.PlaceId is not null);
        _pot = [.. _readings.Where(reading => reading.Of is ReadingOf.Reservoir or ReadingOf.Runoff or ReadingOf.Soak)];
        _pHPoints = [.. _pot.Where(reading => reading.PH is not null).Select(reading => Point(reading, reading.PH!.Value, "pH " + Show.PH(reading.PH.Value)))];
        _ecPoints = [.. _pot.Where(reading => reading.EcMicrosiemensPerCm is not null).Select(reading => Point(reading, Ec(reading.EcMicrosiemensPerCm!.Value), "EC " + Units.EcWords(reading.EcMicrosiemensPerCm.Value)))];
        _ecWindow = _window is { } window ? new Band(Ec(window.EcMicrosiemensPerCm.Low), Ec(window.EcMicrosiemensPerCm.Ideal), Ec(window.EcMicrosiemensPerCm.High)) : null;
        _pHSpan = SeriesPlot.Span(_pHPoints.Select(point => point.Value), _window?.RootPH, 1.2);
        _ecSpan = SeriesPlot.Span(_ecPoints.Select(point => point.Value), _ecWindow, Ec(400));
        if (_place is { } place)
            await AirAsync(place);
    });

    private async Task AirAsync(Place place)
    {
        _lamp = Ledger.Desks.ReadingDesk.LampOf(place.Light);
        _air = await Desk.AirAsync(place.Id, _from, _to, Leaving);
        _airLines =
        [
            Line("p-low", _air.Select(day => (day.Day, Celsius(day.LowCelsius)))),
            Line("p-solid", _air.Select(day => (day.Day, Celsius(day.MeanCelsius)))),
            Line("p-high", _air.Select(day => (day.Day, Celsius(day.HighCelsius)))),
        ];
        _vpdLines = [Line("p-solid", _air.Select(day => (day.Day, day.MeanVpdKilopascals)))];
        _dliLines = [Line("p-solid", _air.Select(day => (day.Day, day.DailyLightMolesPerSquareMetre)))];
        _airSpan = SeriesPlot.Span(_airLines.SelectMany(line => line.Points).Select(point => point.Value), null, 10);
        _vpdSpan = SeriesPlot.Span(_vpdLines[0].Points.Select(point => point.Value).Append(0), null, 1);
        _dliSpan = SeriesPlot.Span(_dliLines[0].Points.Select(point => point.Value).Append(0), null, 5);
    }

    // The way back to the same list, with the sheet of this reading open.
    private string PutRight(ReadingView reading) => Navigation.GetUriWithQueryParameter("right", reading.Id.ToString());

    private SeriesPlot.Point Point(ReadingView reading, double value, string words)
    {
        var day = DateOnly.FromDateTime(reading.At);
        return new SeriesPlot.Point(day, value, $"{Show.ShortDay(day)}, {(reading.PlantNumber is { } number ? T["NumberN", number] : "")} {Say.Of(reading.Of)}: {words}", reading.Of != ReadingOf.Reservoir);
    }

    private static SeriesPlot.Series Line(string how, IEnumerable<(DateOnly Day, double? Value)> points) => new(how, [.. points.Where(point => point.Value is not null).Select(point => (point.Day, point.Value!.Value))]);

    private double Ec(double microsiemensPerCm) => Units.Units.Ec.FromMicrosiemens(microsiemensPerCm);

    private double? Celsius(double? celsius) => celsius is { } kept ? Units.Units.Temperature.FromCelsius(kept) : null;

    private string AltOf(string what, IReadOnlyList<SeriesPlot.Point> points) => points.Count == 0 ? T["AltNone", what] : T["Alt", what, points.Count, points.Min(point => point.Value).ToString("0.0#", CultureInfo.InvariantCulture), points.Max(point => point.Value).ToString("0.0#", CultureInfo.InvariantCulture)];
}
