using System.Globalization;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads a rain record. A line that cannot be read is said and left out, never guessed.</summary>
internal static class RainFile
{
    private const int MostLines = 50_000, MostProblems = 12;
    private const double MostMillimetres = 500;
    private static readonly string[] s_days = ["yyyy-MM-dd", "d.M.yyyy", "yyyyMMdd", "yyyy/MM/dd"];

    /// <exception cref="EntryException">Nothing in it can be read.</exception>
    public static (IReadOnlyList<RainDay> Days, IReadOnlyList<string> Problems) Read(string csv)
    {
        var days = new SortedDictionary<DateOnly, double>();
        var problems = new List<string>();
        var (number, left) = (0, 0);
        foreach (var line in csv.Split('\n').Select(line => line.Trim().Trim('\uFEFF')))
        {
            number++;
            if (number > MostLines)
            {
                throw new EntryException("file", null, FactWords.Say($"at most {MostLines} lines"));
            }

            if (line.Length == 0 || line[0] == '#')
            {
                continue;
            }

            if (Problem(line, days) is { } wrong && !(days.Count == 0 && left == 0 && IsHeading(line)) && ++left <= MostProblems)
            {
                problems.Add(FactWords.Say($"line {number}: {wrong}"));
            }
        }

        if (left > MostProblems)
        {
            problems.Add(FactWords.Say($"{left - MostProblems} more lines were left out."));
        }

        return days.Count > 0
            ? ([.. days.Select(day => new RainDay(day.Key, day.Value))], problems)
            : throw new EntryException("file", null, "lines of a day and its millimetres, such as 2026-03-14,4.2" + (problems.Count > 0 ? $" ({problems[0]})" : ""));
    }

    private static string? Problem(string line, SortedDictionary<DateOnly, double> days)
    {
        var separator = line.Contains('\t') ? '\t' : line.Contains(';') ? ';' : ',';
        var cells = line.Split(separator).Select(cell => cell.Trim().Trim('"')).ToArray();
        if (cells.Length < 2 || !DateOnly.TryParseExact(cells[0], s_days, CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return $"\"{cells[0]}\" is no day; expected 2026-03-14 or 14.3.2026";
        }

        var figure = separator == ',' ? cells[1] : cells[1].Replace(',', '.');
        if (figure.Length == 0)
        {
            return null; // a day without a record is a gap
        }

        if (!double.TryParse(figure, NumberStyles.Float, CultureInfo.InvariantCulture, out var millimetres) || !(millimetres >= 0))
        {
            return $"\"{cells[1]}\" is no amount of rain; expected millimetres, 0 to 500";
        }

        if (millimetres > MostMillimetres)
        {
            return FactWords.Say($"{millimetres:0.#} mm fell on no day; {millimetres / 10:0.#} mm was meant if the record is in tenths of a millimetre. Expected 0 to 500 mm");
        }

        return days.TryAdd(day, millimetres) ? null : FactWords.Say($"{day:yyyy-MM-dd} stands there twice; the first counts");
    }

    private static bool IsHeading(string line) => !line.Any(char.IsAsciiDigit);
}
