using System.Globalization;

namespace Rootwater.Growing.Pots;

/// <summary>Something given for a pot forecast cannot be used: which field by its path in a request file, what it held, what would do.</summary>
public sealed class PotInputException(string field, object? value, string accepted) : InputException(field, value, accepted)
{
    internal static void RequireWithin(string field, double value, double low, double high, string unit)
    {
        if (!(value >= low && value <= high))
        {
            throw new PotInputException(field, value, string.Create(CultureInfo.InvariantCulture, $"{low} to {high} {unit}"));
        }
    }
}
