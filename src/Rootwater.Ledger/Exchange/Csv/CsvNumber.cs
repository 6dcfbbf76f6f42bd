using System.Globalization;
using System.Text.Json.Nodes;

namespace Rootwater.Ledger.Exchange.Csv;

/// <summary>Numbers and moments as people write them into cells; what could be read two ways is refused.</summary>
internal static class CsvNumber
{
    /// <summary>A number with a point, or with a comma where that can only be a decimal one.</summary>
    /// <exception cref="FormatException">It is none, or it is not clear which.</exception>
    public static JsonNode Read(string cell)
    {
        var text = cell.Trim();
        if (text is "Infinity" or "-Infinity" or "NaN")
        {
            return JsonValue.Create(text);
        }

        if (text.Contains(',', StringComparison.Ordinal))
        {
            if (text.Contains('.', StringComparison.Ordinal) || text.Count(c => c == ',') > 1 || text.Split(',')[1].Length == 3)
            {
                throw new FormatException("a number with a decimal point and no thousands: \"1,250\" may mean 1250 or 1.25");
            }

            text = text.Replace(',', '.');
        }

        return decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var exact) ? JsonValue.Create(exact)
            : double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var wide) ? JsonValue.Create(wide)
            : throw new FormatException("a number");
    }
}
