namespace Rootwater.Growing;

/// <summary>One amount for each <see cref="Nutrient"/>. Immutable. The unit stands in the name of whatever holds it (mgPerLitre, mgPerKg).</summary>
public sealed class NutrientAmounts : IEquatable<NutrientAmounts>
{
    public const int Count = (int)Nutrient.Silicon + 1;

    private readonly double[] _amounts;

    private NutrientAmounts(double[] amounts) => _amounts = amounts;

    public static NutrientAmounts Zero { get; } = new(new double[Count]);

    public double this[Nutrient nutrient] => _amounts[(int)nutrient];

    /// <summary>Nitrate, ammonium and urea nitrogen together.</summary>
    public double TotalNitrogen => this[Nutrient.NitrateNitrogen] + this[Nutrient.AmmoniumNitrogen] + this[Nutrient.UreaNitrogen];

    public ReadOnlySpan<double> AsSpan() => _amounts;

    public static NutrientAmounts FromSpan(ReadOnlySpan<double> amounts) => amounts.Length == Count
        ? new NutrientAmounts(amounts.ToArray())
        : throw new ArgumentException($"Expected {Count} amounts, got {amounts.Length}.", nameof(amounts));

    public static NutrientAmounts From(params IEnumerable<(Nutrient Nutrient, double Amount)> pairs)
    {
        var amounts = new double[Count];
        foreach (var (nutrient, amount) in pairs)
        {
            amounts[(int)nutrient] += amount;
        }

        return new NutrientAmounts(amounts);
    }

    public NutrientAmounts PlusScaled(NutrientAmounts other, double factor)
    {
        var amounts = new double[Count];
        for (var i = 0; i < Count; i++)
        {
            amounts[i] = _amounts[i] + factor * other._amounts[i];
        }

        return new NutrientAmounts(amounts);
    }

    public NutrientAmounts Scaled(double factor) => Zero.PlusScaled(this, factor);

    public bool Equals(NutrientAmounts? other) => other is not null && _amounts.AsSpan().SequenceEqual(other._amounts);

    public override bool Equals(object? obj) => Equals(obj as NutrientAmounts);

    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var amount in _amounts)
        {
            hash.Add(amount);
        }

        return hash.ToHashCode();
    }
}
