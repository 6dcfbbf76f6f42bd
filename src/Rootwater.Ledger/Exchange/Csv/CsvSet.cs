using System.Globalization;
using System.IO.Compression;
using CsvHelper;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>All tables of a bench as one ZIP of CSV files, a file for each kind of fact; brought into an empty bench it makes the same one. Pictures travel in the archive, not here.</summary>
internal static class CsvSet
{
    // A recorded forecast has four thousand characters, and what is held while others are written grows old before it dies; a query costs next to nothing.
    private const int FactsAtATime = 50;

    /// <summary>One kind's rows, in the order they were told.</summary>
    public static async Task<long> WriteTableAsync(BenchDatabase database, FactSheet sheet, Stream to, CancellationToken cancel)
    {
        await using var csv = CsvWriter.Create(to, CsvWriterOptions.Default, leaveOpen: true);
        csv.WriteRecord([.. sheet.Columns]);
        long position = 0, written = 0;
        while (true)
        {
            var facts = await database.ReadAsync(
                db => db.Facts.Where(fact => fact.Kind == sheet.Kind && fact.Position > position).OrderBy(fact => fact.Position).Take(FactsAtATime).ToListAsync(cancel), cancel);
            foreach (var fact in facts)
            {
                csv.WriteRecord(sheet.Write(fact));
                position = fact.Position;
                written++;
            }

            await csv.FlushAsync(cancel);
            if (facts.Count < FactsAtATime)
            {
                return written;
            }
        }
    }

    public static async Task WriteAsync(BenchDatabase database, Stream to, CancellationToken cancel)
    {
        using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        var there = await database.ReadAsync(db => db.Facts.Select(fact => fact.Kind).Distinct().ToListAsync(cancel), cancel);
        foreach (var sheet in FactSheet.All().Where(sheet => there.Contains(sheet.Kind)))
        {
            await using var entry = zip.CreateEntry($"{sheet.Kind}.csv").Open();
            await WriteTableAsync(database, sheet, entry, cancel);
        }
    }

    /// <summary>Every fact in a set, in the order of the ledger.</summary>
    /// <exception cref="EntryException">Something in it is no table of ours, or a cell cannot be; all cells at fault are named.</exception>
    public static async Task<IReadOnlyList<Fact>> ReadAsync(Stream from, CancellationToken cancel)
    {
        var limits = new ArchiveLimits();
        var (facts, problems) = (new List<Fact>(), new List<EntryProblem>());
        try
        {
            using var zip = new ZipArchive(from, ZipArchiveMode.Read, leaveOpen: true);
            foreach (var entry in zip.Entries)
            {
                var sheet = entry.FullName.EndsWith(".csv", StringComparison.Ordinal) ? FactSheet.Of(entry.FullName[..^4]) : null;
                if (sheet is null)
                {
                    throw new EntryException("set", entry.FullName.Length > 200 ? entry.FullName[..200] : entry.FullName, "only tables this program writes, as \"plant.arrived.csv\"");
                }

                await using var bounded = new CheckedStream(entry.Open(), entry.FullName, limits.PartBytes, _ => { });
                foreach (var row in (await CsvFile.ReadAsync(bounded, ',', cancel)) is var file ? file.Rows : [])
                {
                    if (ReadRow(sheet, file.Headings, row, problems) is { } fact)
                    {
                        facts.Add(fact);
                    }

                    if (problems.Count >= 50)
                    {
                        throw new EntryException(problems);
                    }
                }
            }
        }
        catch (InvalidDataException)
        {
            throw new EntryException("set", null, "a whole ZIP of CSV files");
        }

        if (problems.Count > 0)
        {
            throw new EntryException(problems);
        }

        facts.Sort((one, other) => one.Position.CompareTo(other.Position));
        return facts;
    }

    private static Fact? ReadRow(FactSheet sheet, IReadOnlyList<string> headings, CsvFileRow row, List<EntryProblem> problems)
    {
        var before = problems.Count;
        string? Cell(string column)
        {
            var at = headings.ToList().IndexOf(column);
            var cell = at >= 0 && at < row.Cells.Count ? row.Cells[at] : "";
            if (CsvCell.IsFormula(cell))
            {
                Refuse(column, cell, "a text that does not begin with = + - or @, which a spreadsheet would run");
                return null;
            }

            return CsvCell.Read(cell);
        }

        void Refuse(string column, string? value, string accepted) => problems.Add(new EntryProblem($"{sheet.Kind}.csv, row {row.Number}, {column}", value, accepted));
        var payload = sheet.Read(Cell, Refuse);
        try
        {
            var when = CsvWhen.Read(Cell("when") ?? "", Cell("clock") ?? "UTC");
            if (payload is null || problems.Count > before)
            {
                return null;
            }

            var (kind, version, json) = FactKinds.Write(payload);
            return new Fact
            {
                Id = Guid.Parse(Cell("id") ?? ""),
                Position = Number("ledgerPosition"),
                Kind = kind,
                Version = version,
                Payload = json,
                SubjectId = Guid.Parse(Cell("subject") ?? ""),
                Precision = when.Precision,
                Earliest = FactWhen.ToStored(when.Earliest),
                Latest = FactWhen.ToStored(when.Latest),
                Zone = when.Zone,
                RecordedMicroseconds = Number("recorded"),
                Who = Cell("who") ?? "",
                Device = Cell("device") ?? "",
                Sequence = Number("sequence"),
                Corrects = Cell("corrects") is { } corrects ? Guid.Parse(corrects) : null,
            };
        }
        catch (FormatException wrong)
        {
            Refuse("stamps", null, $"id, when, subject, recorded, sequence and ledgerPosition as they were written out ({wrong.Message})");
            return null;
        }

        long Number(string column) => long.Parse(Cell(column) ?? "", NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
    }
}
