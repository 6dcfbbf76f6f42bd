using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>A row on its way to becoming facts: its cells by field, the bench to look names up in, and where to say what is wrong.</summary>
internal sealed class RowFacts(CsvFileRow row, IReadOnlyDictionary<string, int> columns, CsvMapping mapping, CsvBench bench, List<CsvProblem> problems)
{
    private const long UnixMillisecondsMask = 0xFFFF_FFFF_FFFF;

    public int Row => row.Number;

    public CsvBench Bench => bench;

    /// <summary>The text of a field, its guard taken off; null where there is none. A cell that a spreadsheet would run is refused.</summary>
    public string? Cell(string field)
    {
        if (!columns.TryGetValue(field, out var column))
        {
            return mapping.FixedFor(field);
        }

        var cell = column < row.Cells.Count ? row.Cells[column] : "";
        if (CsvCell.IsFormula(cell))
        {
            Refuse(field, cell, "a text that does not begin with = + - or @, which a spreadsheet would run; a ' before it makes it a text");
            return null;
        }

        return CsvCell.Read(cell) is { } text && !string.IsNullOrWhiteSpace(text) ? text.Trim() : null;
    }

    public void Refuse(string field, string? value, string accepted)
    {
        if (!problems.Any(problem => problem.Row == Row && problem.Field == field))
        {
            problems.Add(new CsvProblem(Row, field, value, accepted));
        }
    }

    /// <summary>When the row happened; null after refusing, and for no text at all.</summary>
    public FactWhen? When(string field)
    {
        if (Cell(field) is not { } text)
        {
            return null;
        }

        try
        {
            return CsvWhen.Read(text, bench.Zone, mapping.DateFormat);
        }
        catch (FormatException wrong)
        {
            Refuse(field, text, wrong.Message);
            return null;
        }
    }

    /// <summary>An id that is always the same for the same words, shaped as a UUIDv7 of the moment told: the same file brought in twice changes nothing.</summary>
    public static Guid IdFor(FactWhen? when, params string?[] words)
    {
        Span<byte> bytes = stackalloc byte[16];
        SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\u001f', words)))[..16].CopyTo(bytes);
        var milliseconds = when is null ? 0 : (new DateTimeOffset(when.Earliest, TimeSpan.Zero).ToUnixTimeMilliseconds() & UnixMillisecondsMask);
        for (var i = 0; i < 6; i++)
        {
            bytes[i] = (byte)(milliseconds >> (40 - (8 * i)));
        }

        bytes[6] = (byte)((bytes[6] & 0x0F) | 0x70);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes, bigEndian: true);
    }
}

/// <summary>What names in a file are looked up in.</summary>
internal sealed record CsvBench
{
    public required string Zone { get; init; }
    public required IReadOnlyDictionary<int, PlantCard> Plants { get; init; }
    public required IReadOnlyDictionary<string, Guid> Places { get; init; }
    public required IReadOnlyDictionary<string, Guid> Wants { get; init; }
    public required IReadOnlyDictionary<string, Guid> Waters { get; init; }
    public required IReadOnlyDictionary<string, Guid> Products { get; init; }

    /// <summary>An id, or the number or name that stands for one.</summary>
    public Guid? Find(string field, string text) => Guid.TryParse(text, out var id) ? id : field switch
    {
        "plantId" => int.TryParse(text.TrimStart('#'), NumberStyles.None, CultureInfo.InvariantCulture, out var number) && Plants.TryGetValue(number, out var plant) ? plant.Id : null,
        "placeId" => Places.TryGetValue(text, out var place) ? place : null,
        "wantId" => Wants.TryGetValue(text, out var want) ? want : null,
        "productId" => Products.TryGetValue(text, out var product) ? product : null,
        "waterId" => Waters.TryGetValue(text, out var water) ? water : null,
        _ => null,
    };
}

/// <summary>Turns rows of one table into facts.</summary>
internal interface ICsvTable
{
    string Name { get; }

    IReadOnlyList<string> Fields { get; }

    /// <summary>What a row adds to the bench; nothing where it says what is there already.</summary>
    IEnumerable<NewFact> Facts(RowFacts row);
}
