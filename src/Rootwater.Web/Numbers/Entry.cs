using System.Globalization;

namespace Rootwater.Web.Numbers;

/// <summary>A number as a grower types it: decimal comma or point, no thousands sign.</summary>
public static class Entry
{
    /// <summary>Reads "0,83", "0.83", " 5.8 ". False for anything that could mean two numbers ("1,234.5"), for words, and for what is not finite.</summary>
    public static bool TryRead(string? text, out double value)
    {
        value = 0;
        var trimmed = text?.Trim().Replace(" ", "", StringComparison.Ordinal);
        if (string.IsNullOrEmpty(trimmed) || trimmed.Count(sign => sign is ',' or '.') > 1)
            return false;
        return double.TryParse(trimmed.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)
            && double.IsFinite(value);
    }

    /// <summary>Empty is null; anything else must be a number.</summary>
    public static bool TryReadOptional(string? text, out double? value)
    {
        value = null;
        if (string.IsNullOrWhiteSpace(text))
            return true;
        if (!TryRead(text, out var number))
            return false;
        value = number;
        return true;
    }
}
