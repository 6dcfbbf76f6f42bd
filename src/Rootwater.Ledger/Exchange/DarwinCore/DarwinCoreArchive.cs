using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using CsvHelper;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Exchange.Csv;

namespace Rootwater.Ledger.Exchange.DarwinCore;

/// <summary>A Darwin Core archive: occurrence.csv and the meta.xml that says which column is which term (https://dwc.tdwg.org/text/).</summary>
public static class DarwinCoreArchive
{
    private static readonly XNamespace s_text = "http://rs.tdwg.org/dwc/text/";
    private const string TermsAt = "http://rs.tdwg.org/dwc/terms/";

    /// <returns>How many records.</returns>
    public static async Task<int> WriteAsync(Stream to, IAsyncEnumerable<PlantLife> plants)
    {
        using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        var records = 0;
        await using (var file = zip.CreateEntry("occurrence.csv").Open())
        {
            records = await WriteCsvAsync(file, plants);
        }

        using var meta = zip.CreateEntry("meta.xml").Open();
        Meta().Save(meta);
        return records;
    }

    /// <summary>The records alone.</summary>
    public static async Task<int> WriteCsvAsync(Stream to, IAsyncEnumerable<PlantLife> plants)
    {
        await using var csv = CsvWriter.Create(to, CsvWriterOptions.Default, leaveOpen: true);
        csv.WriteRecord([.. DarwinCoreRecord.Terms]);
        var records = 0;
        await foreach (var record in plants.SelectMany(DarwinCoreRecord.Of))
        {
            csv.WriteRecord([.. DarwinCoreRecord.Terms.Select(term => CsvCell.Write(record[term] is { Length: > 0 } text ? text.ReplaceLineEndings(" ") : null))]);
            records++;
        }

        await csv.FlushAsync();
        return records;
    }

    private static XDocument Meta() => new(new XElement(s_text + "archive",
        new XElement(s_text + "core",
            new XAttribute("encoding", Encoding.UTF8.WebName.ToUpperInvariant()),
            new XAttribute("fieldsTerminatedBy", ","),
            new XAttribute("linesTerminatedBy", "\\r\\n"),
            new XAttribute("fieldsEnclosedBy", "\""),
            new XAttribute("ignoreHeaderLines", "1"),
            new XAttribute("rowType", TermsAt + "Occurrence"),
            new XElement(s_text + "files", new XElement(s_text + "location", "occurrence.csv")),
            new XElement(s_text + "id", new XAttribute("index", 0)),
            DarwinCoreRecord.Terms.Select((term, index) => new XElement(s_text + "field", new XAttribute("index", index), new XAttribute("term", TermsAt + term))))));
}
