using System.Globalization;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>
/// What stands in a cell for a text. A spreadsheet runs a cell that begins with = + - @ as a formula, so such a text goes out behind a ' (which
/// spreadsheets read as "this is text") and comes in without it. An empty text goes out as ' alone; an empty cell is nothing at all.
/// </summary>
/// <remarks>The list of signs: OWASP, "CSV Injection". A number keeps its minus.</remarks>
public static class CsvCell
{
    private const char Guard = '\'';

    public static string Write(string? text) => text switch
    {
        null => "",
        "" => "'",
        _ when (LooksLikeFormula(text) && !IsNumber(text)) || text[0] == Guard => Guard + text,
        _ => text,
    };

    public static string? Read(string cell) => cell switch
    {
        "" => null,
        "'" => "",
        [Guard, var next, ..] when next == Guard || IsSign(next) => cell[1..],
        _ => cell,
    };

    /// <summary>A cell that a spreadsheet would run, as it stands in a file.</summary>
    public static bool IsFormula(string cell) => LooksLikeFormula(cell) && !IsNumber(cell);

    private static bool LooksLikeFormula(string text) => text.Length > 0 && IsSign(text[0]);

    private static bool IsSign(char c) => c is '=' or '+' or '-' or '@' or '\t' or '\r';

    private static bool IsNumber(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
}
