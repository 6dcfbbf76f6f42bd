using System.Globalization;

namespace Rootwater.Growing.Pots;

/// <summary>Something given for a pot forecast cannot be used: which field, what it held, what would do.</summary>
public sealed class PotInputException : Exception
{
    public PotInputException(string field, object? value, string accepted)
        : base(value is null
            ? $"{field} is missing; expected {accepted}."
            : string.Create(CultureInfo.InvariantCulture, $"{field}: {value} cannot be used; expected {accepted}."))
    {
        Field = field;
        Value = Convert.ToString(value, CultureInfo.InvariantCulture);
        Accepted = accepted;
    }

    /// <summary>The field by its path in a request file.</summary>
    public string Field { get; }

    /// <summary>What it held.</summary>
    public string? Value { get; }

    /// <summary>What would have been accepted.</summary>
    public string Accepted { get; }

    internal static void RequireWithin(string field, double value, double low, double high, string unit)
    {
        if (!(value >= low && value <= high))
        {
            throw new PotInputException(field, value, string.Create(CultureInfo.InvariantCulture, $"{low} to {high} {unit}"));
        }
    }
}
