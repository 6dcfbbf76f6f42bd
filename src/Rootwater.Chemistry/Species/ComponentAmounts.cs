using System.Collections.Immutable;

namespace Rootwater.Chemistry.Species;

/// <summary>
/// One amount for each <see cref="Component"/>, hydrogen included. Immutable. The unit stands in the name of whatever holds it
/// (for example <c>molPerKgWater</c>, <c>molPerKgProduct</c>).
/// </summary>
public sealed class ComponentAmounts : IEquatable<ComponentAmounts>
{
    /// <summary>How many components there are.</summary>
    public const int Count = (int)Component.Urea + 1;

    private readonly double[] _amounts;

    private ComponentAmounts(double[] amounts) => _amounts = amounts;

    /// <summary>Nothing of anything: pure water.</summary>
    public static ComponentAmounts Zero { get; } = new(new double[Count]);

    /// <summary>The amount of one component.</summary>
    public double this[Component component] => _amounts[(int)component];

    /// <summary>All amounts in the order of <see cref="Component"/>.</summary>
    public ReadOnlySpan<double> AsSpan() => _amounts;

    /// <summary>From amounts in the order of <see cref="Component"/>.</summary>
    /// <exception cref="ArgumentException">The span has not exactly <see cref="Count"/> entries, or one is not finite.</exception>
    public static ComponentAmounts FromSpan(ReadOnlySpan<double> amounts)
    {
        if (amounts.Length != Count)
        {
            throw new ArgumentException($"Expected {Count} amounts, got {amounts.Length}.", nameof(amounts));
        }

        foreach (var amount in amounts)
        {
            if (!double.IsFinite(amount))
            {
                throw new ArgumentException("Every amount must be a finite number.", nameof(amounts));
            }
        }

        return new ComponentAmounts(amounts.ToArray());
    }

    /// <summary>From pairs; components not named are zero, named twice are added.</summary>
    public static ComponentAmounts From(params IEnumerable<(Component Component, double Amount)> pairs)
    {
        var amounts = new double[Count];
        foreach (var (component, amount) in pairs)
        {
            amounts[(int)component] += amount;
        }

        return FromSpan(amounts);
    }

    /// <summary>The sum of both, component by component.</summary>
    public ComponentAmounts Plus(ComponentAmounts other) => PlusScaled(other, 1);

    /// <summary>This plus <paramref name="factor"/> times the other.</summary>
    public ComponentAmounts PlusScaled(ComponentAmounts other, double factor)
    {
        var amounts = new double[Count];
        for (var i = 0; i < Count; i++)
        {
            amounts[i] = _amounts[i] + factor * other._amounts[i];
        }

        return FromSpan(amounts);
    }

    /// <summary>Every amount times <paramref name="factor"/>.</summary>
    public ComponentAmounts Scaled(double factor)
    {
        var amounts = new double[Count];
        for (var i = 0; i < Count; i++)
        {
            amounts[i] = _amounts[i] * factor;
        }

        return FromSpan(amounts);
    }

    /// <summary>The same with one component set.</summary>
    public ComponentAmounts With(Component component, double amount)
    {
        var amounts = (double[])_amounts.Clone();
        amounts[(int)component] = amount;
        return FromSpan(amounts);
    }

    /// <summary>The components whose amount is not zero.</summary>
    public ImmutableArray<Component> Present()
    {
        var builder = ImmutableArray.CreateBuilder<Component>();
        for (var i = 0; i < Count; i++)
        {
            if (_amounts[i] != 0)
            {
                builder.Add((Component)i);
            }
        }

        return builder.ToImmutable();
    }

    /// <inheritdoc/>
    public bool Equals(ComponentAmounts? other) => other is not null && _amounts.AsSpan().SequenceEqual(other._amounts);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ComponentAmounts);

    /// <inheritdoc/>
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
