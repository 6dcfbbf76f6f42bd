using System.Globalization;
using CsvHelper;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>A logger's CSV read by a mapping: rows become samples of local days; what cannot be read is said by line and left out, never guessed.</summary>
internal sealed record LoggerFile(LoggerPreview Preview, IReadOnlyList<(DateOnly Day, IReadOnlyList<AirSample> Samples)> Days)
{
    private const int MostRows = 1_000_000, MostProblems = 20;

    /// <exception cref="EntryException">It is no such file, or a column is not in it.</exception>
    public static async Task<LoggerFile> ReadAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel)
    {
        var problems = new List<string>();
        var left = 0;
        var rows = 0;
        var days = new SortedDictionary<DateOnly, SortedDictionary<int, AirSample>>();
        string[]? headings = null;
        try
        {
            var options = CsvReaderOptions.Default with { Separator = mapping.Separator, HasHeader = false, MaxRecordSize = 1 << 20, SkipEmptyLines = true, TrackLineNumbers = true, NullValues = [] };
            await using var reader = CsvReader.Create(csv, options, leaveOpen: true);
            while (await reader.ReadAsync(cancel))
            {
                var cells = Enumerable.Range(0, reader.FieldCount).Select(reader.GetString).ToArray();
                if (headings is null)
                {
                    headings = [.. cells.Select(cell => cell.Trim('\uFEFF', ' '))];
                    Check(headings, mapping);
                    continue;
                }

                if (++rows > MostRows)
                    throw new EntryException("file", null, $"at most {MostRows:N0} rows");
                if (Row(headings, cells, mapping) is var (sample, at, wrong) && wrong is not null)
                    Problem(rows + 1, wrong);
                else if (at is { } minute && sample is not null)
                {
                    var day = DateOnly.FromDateTime(minute);
                    if (!days.TryGetValue(day, out var samples))
                        days[day] = samples = [];
                    if (!samples.TryAdd(sample.Minute, sample))
                        Problem(rows + 1, $"the minute {minute:HH:mm} stands there twice; the first counts.");
                }
            }
        }
        catch (Exception broken) when (broken is CsvFormatException or CsvValidationException or System.Text.DecoderFallbackException or InvalidDataException)
        {
            throw new EntryException("file", null, $"a CSV file in UTF-8 ({broken.Message})");
        }

        if (headings is null)
            throw new EntryException("file", null, "a first row with the names of the columns: this file is empty");
        if (left > MostProblems)
            problems.Add($"{left - MostProblems} more rows were left out.");
        var read = days.Select(day => (day.Key, (IReadOnlyList<AirSample>)[.. day.Value.Values])).ToList();
        return new LoggerFile(new LoggerPreview(rows - left, read.Count, read.Count == 0 ? null : read[0].Key, read.Count == 0 ? null : read[^1].Key, problems), read);

        void Problem(int line, string what)
        {
            if (++left <= MostProblems)
                problems.Add($"line {line}: {what}");
        }
    }

    private static void Check(string[] headings, LoggerMapping mapping)
    {
        var problems = new List<EntryProblem>();
        foreach (var (field, name) in new[] { ("time", mapping.TimeColumn), ("temperature", mapping.TemperatureColumn), ("humidity", mapping.HumidityColumn), ("PPFD", mapping.PpfdColumn), ("lux", mapping.LuxColumn) })
        {
            if (name is not null && !headings.Contains(name))
                problems.Add(new EntryProblem(field, name, $"a column of the file: {string.Join(", ", headings)}"));
        }

        if (mapping is { TemperatureColumn: null, HumidityColumn: null, PpfdColumn: null, LuxColumn: null })
            problems.Add(new EntryProblem("columns", null, "name at least one of temperature, humidity, PPFD and lux"));
        if (problems.Count > 0)
            throw new EntryException(problems);
    }

    private static (AirSample? Sample, DateTime? At, string? Wrong) Row(string[] headings, string[] cells, LoggerMapping mapping)
    {
        string? wrong = null;
        var time = Cell(mapping.TimeColumn);
        var read = mapping.TimeFormat is { } format
            ? DateTime.TryParseExact(time, format, CultureInfo.InvariantCulture, DateTimeStyles.None, out var at)
            : DateTime.TryParse(time, CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind | DateTimeStyles.AllowWhiteSpaces, out at);
        if (!read)
            return (null, null, $"\"{time}\" is no time{(mapping.TimeFormat is { } asked ? $" of the form {asked}" : "; name its form, such as dd.MM.yyyy HH:mm")}.");
        var celsius = Number(mapping.TemperatureColumn, "temperature", mapping.TemperatureIsFahrenheit ? -4 : -20, mapping.TemperatureIsFahrenheit ? 140 : 60);
        if (mapping.TemperatureIsFahrenheit && celsius is { } fahrenheit)
            celsius = TemperatureUnit.Fahrenheit.ToCelsius(fahrenheit);
        var humidity = Number(mapping.HumidityColumn, "humidity", 0, 100) / 100;
        var ppfd = Number(mapping.PpfdColumn, "PPFD", 0, 3000);
        var lux = Number(mapping.LuxColumn, "lux", 0, 200_000);
        if (wrong is not null)
            return (null, at, wrong);
        return celsius is null && humidity is null && ppfd is null && lux is null
            ? (null, at, "nothing was read.")
            : (new AirSample((int)at.TimeOfDay.TotalMinutes, celsius, humidity, ppfd, lux), at, null);

        string? Cell(string? column) => column is not null && Array.IndexOf(headings, column) is >= 0 and var index && index < cells.Length ? cells[index].Trim() : null;

        // A comma may be the decimal sign; an empty cell was not read; anything else that is no number spoils its row.
        double? Number(string? column, string what, double low, double high)
        {
            if (Cell(column) is not { Length: > 0 } text)
                return null;
            if (double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && number >= low && number <= high)
                return number;
            wrong ??= $"\"{text}\" is no {what} ({low.ToString(CultureInfo.InvariantCulture)} to {high.ToString(CultureInfo.InvariantCulture)}); left out.";
            return null;
        }
    }
}
