using System.CommandLine;
using System.Globalization;
using Rootwater.Growing;
using Rootwater.Ledger;

namespace Rootwater.Cli;

/// <summary><c>--reader</c>: tables and what is typed in the units set on the bench. Without it mS/cm and °C, and JSON is SI in any case, so that a script means the same on every bench.</summary>
internal static class UnitsOption
{
    public static Option<bool> Create() => new("--reader") { Description = "Show and take EC and temperature in the units set on the bench (settings page); JSON stays in µS/cm and °C." };

    public static async Task<ReadersUnits> OfAsync(BenchDesks desks, bool reader, CancellationToken cancel) => reader ? (await desks.Settings.GetAsync(cancel)).Units : new ReadersUnits();

    public static string EcUnit(this ReadersUnits units) => units.Ec switch
    {
        EcScale.Ppm500 => "ppm (0.5 scale)",
        EcScale.Ppm640 => "ppm (0.64 scale)",
        EcScale.Ppm700 => "ppm (0.7 scale)",
        _ => "mS/cm",
    };

    public static string CelsiusUnit(this ReadersUnits units) => units.Temperature == TemperatureUnit.Fahrenheit ? "°F" : "°C";

    public static string? Ec(this ReadersUnits units, double? microsiemensPerCm) => microsiemensPerCm is { } ec ? units.Ec.FromMicrosiemens(ec).ToString(units.Ec == EcScale.MillisiemensPerCm ? "0.00" : "0", CultureInfo.InvariantCulture) : null;

    public static string? Celsius(this ReadersUnits units, double? celsius) => celsius is { } warm ? units.Temperature.FromCelsius(warm).ToString("0.#", CultureInfo.InvariantCulture) : null;
}
