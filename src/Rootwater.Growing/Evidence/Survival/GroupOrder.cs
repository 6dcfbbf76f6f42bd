using System.Globalization;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>How group names are ordered where an order is needed: numbers by size, text by letter without regard to case.</summary>
internal sealed class GroupOrder : IComparer<string>
{
    public static GroupOrder Instance { get; } = new();

    public int Compare(string? x, string? y)
    {
        if (double.TryParse(x, NumberStyles.Float, CultureInfo.InvariantCulture, out var a) && double.TryParse(y, NumberStyles.Float, CultureInfo.InvariantCulture, out var b) && a != b)
        {
            return a.CompareTo(b);
        }

        var order = StringComparer.OrdinalIgnoreCase.Compare(x, y);
        return order != 0 ? order : string.CompareOrdinal(x, y);
    }
}
