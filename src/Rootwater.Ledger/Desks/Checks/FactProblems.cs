using System.Globalization;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Gathers what is wrong with a fact, field by field.</summary>
internal sealed class FactProblems
{
    private readonly List<EntryProblem> _problems = [];

    public IReadOnlyList<EntryProblem> All => _problems;

    public void Add(string field, string? value, string accepted) => _problems.Add(new EntryProblem(field, value, accepted));

    public void AddAll(IEnumerable<EntryProblem> problems) => _problems.AddRange(problems);

    public void Text(string field, string? value, int most = 2000, bool required = true)
    {
        if (string.IsNullOrWhiteSpace(value) ? required : value.Length > most)
        {
            Add(field, string.IsNullOrWhiteSpace(value) ? null : $"{value[..40]}…", FactWords.Say($"{(required ? "1" : "up")} to {most} characters"));
        }
    }

    public void Range(string field, double? value, double low, double high, string unit, bool required = false)
    {
        if (value is { } entered ? !(entered >= low && entered <= high) : required)
        {
            Add(field, Say(value), FactWords.Say($"{low:0.######} to {high:0.######} {unit}").TrimEnd());
        }
    }

    public void AtLeastOne(string field, string accepted, params ReadOnlySpan<object?> values)
    {
        foreach (var value in values)
        {
            if (value is not null)
            {
                return;
            }
        }

        Add(field, null, accepted);
    }

    public void Known<TEnum>(string field, TEnum value) where TEnum : struct, Enum
    {
        if (!Enum.IsDefined(value))
        {
            Add(field, value.ToString(), string.Join(", ", Enum.GetNames<TEnum>()));
        }
    }

    /// <exception cref="EntryException">There are any.</exception>
    public void Refuse()
    {
        if (_problems.Count > 0)
        {
            throw new EntryException(_problems);
        }
    }

    public static string? Say(double? value) => value?.ToString(CultureInfo.InvariantCulture);
}
