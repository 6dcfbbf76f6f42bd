using System.Globalization;

namespace Rootwater.Growing.Evidence;

/// <summary>Something given for an evidence method cannot be used: which field, what it held, what would do.</summary>
public sealed class EvidenceInputException : Exception
{
    public EvidenceInputException(string field, object? value, string accepted)
        : base(value is null
            ? $"{field} is missing; expected {accepted}."
            : string.Create(CultureInfo.InvariantCulture, $"{field}: {value} cannot be used; expected {accepted}."))
    {
        Field = field;
        Value = Convert.ToString(value, CultureInfo.InvariantCulture);
        Accepted = accepted;
    }

    /// <summary>The column or option.</summary>
    public string Field { get; }

    /// <summary>What it held.</summary>
    public string? Value { get; }

    /// <summary>What would have been accepted.</summary>
    public string Accepted { get; }
}
