using CsvHelper;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>A CSV file read whole: RFC 4180, UTF-8, the separator found by itself, sizes limited.</summary>
/// <param name="Headings">First row.</param>
/// <param name="Rows">Cells as they stand; a row may be shorter than the headings.</param>
public sealed record CsvFile(IReadOnlyList<string> Headings, IReadOnlyList<CsvFileRow> Rows)
{
    private const int MostRows = 1_000_000;
    private const int MostBytesInARow = 4 << 20;

    /// <exception cref="EntryException">It is no such file.</exception>
    public static async Task<CsvFile> ReadAsync(Stream from, char? separator = null, CancellationToken cancel = default)
    {
        try
        {
            var options = CsvReaderOptions.Default with { Separator = separator, HasHeader = false, MaxRecordSize = MostBytesInARow, SkipEmptyLines = true, TrackLineNumbers = true, NullValues = [] };
            await using var reader = CsvReader.Create(from, options, leaveOpen: true);
            List<string>? headings = null;
            var rows = new List<CsvFileRow>();
            while (await reader.ReadAsync(cancel))
            {
                var cells = Enumerable.Range(0, reader.FieldCount).Select(reader.GetString).ToArray();
                if (headings is null)
                {
                    headings = [.. cells.Select(cell => CsvCell.Read(cell.Trim()) ?? "")];
                    if (headings.Where(name => name.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase).Count() < headings.Count(name => name.Length > 0))
                    {
                        throw new EntryException("headings", string.Join(", ", headings), "every heading once");
                    }
                }
                else if (cells.Any(cell => cell.Length > 0))
                {
                    if (rows.Count == MostRows)
                    {
                        throw new EntryException("file", null, $"at most {MostRows:N0} rows");
                    }

                    rows.Add(new CsvFileRow(rows.Count + 2, cells));
                }
            }

            return new CsvFile(headings ?? throw new EntryException("file", null, "a first row with the names of the columns: this file is empty"), rows);
        }
        catch (Exception broken) when (broken is CsvFormatException or CsvValidationException or System.Text.DecoderFallbackException or InvalidDataException)
        {
            throw new EntryException("file", null, $"a CSV file in UTF-8 ({broken.Message})");
        }
    }
}

/// <summary>A row as it stands.</summary>
/// <param name="Number">As a spreadsheet counts: the headings are row 1.</param>
/// <param name="Cells">Text of each.</param>
public sealed record CsvFileRow(int Number, IReadOnlyList<string> Cells);
