using System.Globalization;
using Microsoft.AspNetCore.Components;
using Rootwater.Growing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Components.Plots;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Cans;

/// <summary>The pens: what they read in their standards, how they drift, what that does to their readings, and when they are due again.</summary>
public sealed partial class PensPage
{
    private readonly Row[] _rows = [new(), new(), new()];
    private IReadOnlyList<PenView>? _pens;
    private Guid? _pen;
    private string _celsius = "";
    private DateOnly? _on;
    private bool _adjusted;
    private string? _note;
    private string? _name;
    private PenKind _kind;
    private string _compensation = "2";
    private string _reference = "";
    private string? _told;
    private Guid? _undo;

    private sealed class Row
    {
        public string Standard { get; set; } = "";
        public string? Reading { get; set; }
    }

    private bool IsEc => _pens?.FirstOrDefault(view => view.Pen.Id == _pen)?.Pen.Kind != PenKind.PH;

    protected override async Task OnInitializedAsync()
    {
        (_celsius, _reference) = (U.Celsius(20), U.Celsius(25));
        await AttemptAsync(LoadAsync);
    }

    private async Task LoadAsync()
    {
        _pens = await Desk.ListAsync(Leaving);
        if (_pens.All(view => view.Pen.Id != _pen))
            Take(_pens.FirstOrDefault(view => view.IsDue)?.Pen.Id ?? _pens.FirstOrDefault(view => view.Pen.RetiredOn is null)?.Pen.Id);
    }

    private void ChoosePen(ChangeEventArgs change) => Take(Guid.TryParse(change.Value as string, CultureInfo.InvariantCulture, out var pen) ? pen : _pen);

    // The usual ones stand there: 1413, or 7 and 4.
    private void Take(Guid? pen)
    {
        _pen = pen;
        var usual = IsEc ? new[] { "1413", "84", "447" } : ["7", "4.01", "10.01"];
        for (var i = 0; i < _rows.Length; i++)
            (_rows[i].Standard, _rows[i].Reading) = (usual[i], null);
    }

    private Task Keep() => AttemptAsync(async () =>
    {
        (_told, _undo) = (null, null);
        var problems = new List<EntryProblem>();
        if (!Entry.TryRead(_celsius, out var celsius))
            problems.Add(new EntryProblem("temperature", _celsius, T["TypeCelsius"]));
        var standards = new List<StandardRead>();
        foreach (var row in _rows)
        {
            if (!Entry.TryReadOptional(row.Reading, out var shown))
                problems.Add(new EntryProblem("reading", row.Reading, T["TypeReading"]));
            else if (shown is { } read)
                standards.Add(new StandardRead(double.Parse(row.Standard, CultureInfo.InvariantCulture), IsEc ? U.Units.Ec.ToMicrosiemens(read) : read, U.Units.Temperature.ToCelsius(celsius)));
        }

        if (problems.Count == 0 && standards.Count == 0)
            problems.Add(new EntryProblem("reading", null, T["TypeReading"]));
        if (problems.Count > 0)
            throw new EntryException(problems);
        var calibration = new NewPenCalibration { PenId = _pen!.Value, Standards = standards, Adjusted = _adjusted, On = _on, Note = string.IsNullOrWhiteSpace(_note) ? null : _note.Trim() };
        var kept = await Desk.CalibrateAsync(calibration, Leaving);
        (_told, _undo, _adjusted, _note, _on) = (T["Kept", kept.Pen.Name], calibration.Id, false, null, null);
        foreach (var row in _rows)
            row.Reading = null;
        await LoadAsync();
    });

    private Task Undo() => AttemptAsync(async () =>
    {
        await Desk.UndoAsync(_undo!.Value, Leaving);
        (_told, _undo) = (T["TakenBack"], null);
        await LoadAsync();
    });

    private Task Add() => AttemptAsync(async () =>
    {
        (_told, _undo) = (null, null);
        var problems = new List<EntryProblem>();
        var compensation = 2.0;
        var reference = U.Units.Temperature.FromCelsius(25);
        if (_kind == PenKind.Ec && !Entry.TryRead(_compensation, out compensation))
            problems.Add(new EntryProblem("compensation", _compensation, T["TypeCompensation"]));
        if (_kind == PenKind.Ec && !Entry.TryRead(_reference, out reference))
            problems.Add(new EntryProblem("reference temperature", _reference, T["TypeCelsius"]));
        if (problems.Count > 0)
            throw new EntryException(problems);
        var kept = await Desk.SaveAsync(
            new Pen { Id = Guid.CreateVersion7(), Name = _name?.Trim() ?? "", Kind = _kind, CompensationPerCelsius = compensation / 100, ReferenceCelsius = Math.Round(U.Units.Temperature.ToCelsius(reference), 2) }, cancel: Leaving);
        (_told, _name) = (T["PenKept", kept.Pen.Name], null);
        await LoadAsync();
        Take(kept.Pen.Id);
    });

    private string Figure(PenKind kind, double value) => kind == PenKind.PH ? value.ToString("0.00", CultureInfo.InvariantCulture) : U.Units.Ec == EcScale.MillisiemensPerCm ? value.ToString("0", CultureInfo.InvariantCulture) + " µS/cm" : U.EcWords(value);

    private string Placeholder(string standard) => double.TryParse(standard, CultureInfo.InvariantCulture, out var value) ? IsEc ? U.Units.Ec.FromMicrosiemens(value).ToString("0.###", CultureInfo.InvariantCulture) : value.ToString("0.00", CultureInfo.InvariantCulture) : "";

    private static string Percent(double share) => (share * 100).ToString("0.##", CultureInfo.InvariantCulture);

    private static string Off(PenKind kind, double off) => kind == PenKind.Ec
        ? Math.Round(off * 100, 1).ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture) + " %"
        : Math.Round(off, 2).ToString("+0.00;−0.00;0.00", CultureInfo.InvariantCulture);

    private static double Drawn(PenKind kind, double off) => kind == PenKind.Ec ? off * 100 : off;

    private static Band Window(PenKind kind) => kind == PenKind.Ec ? new Band(-PenDue.MostEcShare * 100, 0, PenDue.MostEcShare * 100) : new Band(-PenDue.MostPH, 0, PenDue.MostPH);

    private static (double Low, double High) Span(PenView view) =>
        SeriesPlot.Span(view.Log.SelectMany(line => line.Standards).Select(read => Drawn(view.Pen.Kind, read.Off)), Window(view.Pen.Kind), view.Pen.Kind == PenKind.Ec ? 1 : 0.05);

    private List<SeriesPlot.Point> Points(PenView view) =>
        [.. view.Log.SelectMany(line => line.Standards.Select(read => new SeriesPlot.Point(line.On, Drawn(view.Pen.Kind, read.Off), T["PointTitle", Show.ShortDay(line.On), Figure(view.Pen.Kind, read.At25), Off(view.Pen.Kind, read.Off)], line.Adjusted)))];
}
