using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Rootwater.Ledger;
using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Web.Network;

namespace Rootwater.Web.Pages.Exchange;

/// <summary>What leaves the bench and what comes in: shown first, written on a second press.</summary>
public sealed partial class ExchangePage
{
    private const int MostShown = 30;
    private const long MostBytes = 32L << 20;

    private string _table = "plants";
    private string? _format;
    private byte[] _file = [];
    private IReadOnlyList<string> _headings = [];
    private readonly Dictionary<string, string> _columns = [];
    private CsvReport? _report;
    private IReadOnlyList<BackupView> _backups = [];

    protected override Task OnInitializedAsync() => AttemptAsync(async () => _backups = await Backups.ListAsync(Leaving));

    private void Choose(ChangeEventArgs change)
    {
        (_table, _report) = (change.Value as string ?? "plants", null);
        MapByName();
    }

    private Task TakeAsync(InputFileChangeEventArgs change) => AttemptAsync(async () =>
    {
        (_report, _headings) = (null, []);
        if (change.File.Size > MostBytes)
            throw new EntryException("file", change.File.Name, $"at most {MostBytes >> 20} MiB here; the terminal takes larger ones");
        using var bytes = new MemoryStream();
        await change.File.OpenReadStream(MostBytes, Leaving).CopyToAsync(bytes, Leaving);
        _file = bytes.ToArray();
        _headings = [.. (await CsvFile.ReadAsync(new MemoryStream(_file), cancel: Leaving)).Headings.Where(heading => heading.Length > 0)];
        MapByName();
        _report = await Desk.ReadCsvAsync(new MemoryStream(_file), Mapping, write: false, Leaving);
    });

    private void MapByName()
    {
        _columns.Clear();
        if (_headings.Count > 0)
            foreach (var (field, column) in new CsvMapping { Table = _table }.Resolve(_headings, Desk.FieldsOf(_table).ToList()))
                _columns[field] = _headings[column];
    }

    private void Map(string field, string? heading)
    {
        _report = null;
        if (string.IsNullOrEmpty(heading))
            _columns.Remove(field);
        else
            _columns[field] = heading;
    }

    private Task ReadAsync(bool write) => AttemptAsync(async () => _report = await Desk.ReadCsvAsync(new MemoryStream(_file), Mapping, write, Leaving));

    private Task BackUpAsync() => AttemptAsync(async () =>
    {
        await Backups.NowAsync(Schedule.Retention, cancel: Leaving);
        _backups = await Backups.ListAsync(Leaving);
    });

    private CsvMapping Mapping => new() { Table = _table, Columns = _columns, OnlyMapped = true, DateFormat = string.IsNullOrWhiteSpace(_format) ? null : _format.Trim() };

    private string? _calendar;

    private Task CalendarAsync(bool anew) => AttemptAsync(async () =>
    {
        if (anew)
            Access.NewCalendarKey();
        _calendar = ((await Settings.GetAsync(Leaving)).BaseAddress ?? Here.BaseUri.TrimEnd('/')) + CalendarFeedAddress.Of(Access);
    });
}
