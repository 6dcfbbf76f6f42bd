using System.Globalization;

namespace Rootwater.Growing;

/// <summary>Something given cannot be used: which field, what it held, what would do.</summary>
public abstract class InputException : Exception
{
    private protected InputException(string field, object? value, string accepted)
        : base(value is null
            ? $"{field} is missing; expected {accepted}."
            : string.Create(CultureInfo.InvariantCulture, $"{field}: {value} cannot be used; expected {accepted}."))
    {
        Field = field;
        Value = Convert.ToString(value, CultureInfo.InvariantCulture);
        Accepted = accepted;
    }

    /// <summary>The column or option, or the field by its path in a request file.</summary>
    public string Field { get; }

    /// <summary>What it held.</summary>
    public string? Value { get; }

    /// <summary>What would have been accepted.</summary>
    public string Accepted { get; }
}
