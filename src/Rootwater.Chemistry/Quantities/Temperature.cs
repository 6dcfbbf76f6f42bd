namespace Rootwater.Chemistry.Quantities;

/// <summary>A temperature. Built and read by unit, so that °C, °F and K are never mistaken for one another.</summary>
/// <remarks>The chemistry is made for 5 to 40 °C; the solvers refuse what lies outside 0 to 50 °C.</remarks>
public readonly record struct Temperature : IComparable<Temperature>
{
    private const double IcePointKelvin = 273.15;

    private Temperature(double celsius) => Celsius = celsius;

    /// <summary>Degrees Celsius.</summary>
    public double Celsius { get; }

    /// <summary>Kelvin.</summary>
    public double Kelvin => Celsius + IcePointKelvin;

    /// <summary>Degrees Fahrenheit.</summary>
    public double Fahrenheit => Celsius * 1.8 + 32;

    /// <summary>25 °C, the reference of meters and tables.</summary>
    public static Temperature Reference { get; } = FromCelsius(25);

    /// <summary>From degrees Celsius.</summary>
    public static Temperature FromCelsius(double celsius) => new(celsius);

    /// <summary>From degrees Fahrenheit.</summary>
    public static Temperature FromFahrenheit(double fahrenheit) => new((fahrenheit - 32) / 1.8);

    /// <summary>From kelvin.</summary>
    public static Temperature FromKelvin(double kelvin) => new(kelvin - IcePointKelvin);

    /// <inheritdoc/>
    public int CompareTo(Temperature other) => Celsius.CompareTo(other.Celsius);

    /// <inheritdoc/>
    public override string ToString() => FormattableString.Invariant($"{Celsius:0.##} °C");
}
