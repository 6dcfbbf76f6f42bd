using System.Globalization;
using Rootwater.Growing;
using Rootwater.Ledger;

namespace Rootwater.Web.Numbers;

/// <summary>
/// Measured values as typed, in the reader's units: a value that cannot be is refused with what it most likely means (a forgotten point, the
/// other unit), so that nothing wrong by a factor gets into the records. Each returns null for an empty field.
/// </summary>
public sealed class Measured(ReadersUnits units)
{
    public const string EcField = "EC", PHField = "pH", TemperatureField = "temperature", HumidityField = "humidity", LevelField = "level", PpfdField = "PPFD", LuxField = "lux";

    private readonly List<EntryProblem> _problems = [];

    /// <summary>µS/cm.</summary>
    public double? Ec(string? text)
    {
        if (Number(EcField, text, "type the number the pen shows, such as 0.83 or 0,83.") is not { } shown)
            return null;
        if (units.Ec == EcScale.MillisiemensPerCm)
        {
            if (shown is < 0)
                return Refuse(EcField, text, "must be 0 or more, in mS/cm.");
            if (shown > 20)
                return Refuse(EcField, text, $"is far above any feed in mS/cm; if the pen shows µS/cm, type {Plain(shown / 1000)}.");
        }
        else if (shown is < 0 or > 14_000)
        {
            return Refuse(EcField, text, "must lie between 0 and 14,000 ppm; if the pen shows µS/cm, change the scale in the settings.");
        }
        else if (shown is > 0 and < 20 && text!.AsSpan().IndexOfAny(',', '.') >= 0)
        {
            return Refuse(EcField, text, $"is next to nothing in ppm; if the pen shows mS/cm, type {Plain(Math.Round(units.Ec.FromMicrosiemens(shown * 1000)))}.");
        }

        return units.Ec.ToMicrosiemens(shown);
    }

    public double? PH(string? text) => Number(PHField, text, "type the number the pen shows, such as 5.8 or 5,8.") switch
    {
        null => null,
        < 0 => Refuse(PHField, text, "must lie between 0 and 14."),
        > 14 and <= 140 and var shown => Refuse(PHField, text, $"must lie between 0 and 14; if the pen shows {Plain(shown / 10)}, type that."),
        > 140 and <= 1400 and var shown => Refuse(PHField, text, $"must lie between 0 and 14; if the pen shows {Plain(shown / 100)}, type that."),
        > 1400 => Refuse(PHField, text, "must lie between 0 and 14."),
        var shown => shown,
    };

    /// <summary>°C.</summary>
    public double? Celsius(string? text)
    {
        if (Number(TemperatureField, text, "type degrees, such as 18.5.") is not { } shown)
            return null;
        var celsius = units.Temperature.ToCelsius(shown);
        if (celsius is >= -20 and <= 60)
            return celsius;
        if (units.Temperature == TemperatureUnit.Celsius)
            return Refuse(TemperatureField, text, shown is > 60 and <= 140 ? $"is too hot for °C; if the thermometer shows °F, type {Plain(Math.Round((shown - 32) / 1.8, 1))}." : "must lie between -20 and 60 °C.");
        return Refuse(TemperatureField, text, "must lie between -4 and 140 °F.");
    }

    /// <summary>Relative humidity, 0 to 1, from per cent.</summary>
    public double? Humidity(string? text) => Share(HumidityField, text, 1);

    /// <summary>What a reservoir still holds as a share of full, 0 to 1, from per cent.</summary>
    public double? Level(string? text) => Share(LevelField, text, 0);

    /// <summary>µmol m⁻² s⁻¹.</summary>
    public double? Ppfd(string? text) => Number(PpfdField, text, "type µmol m⁻² s⁻¹, such as 120.") switch
    {
        null => null,
        < 0 => Refuse(PpfdField, text, "must be 0 or more."),
        > 2500 => Refuse(PpfdField, text, "is more than the sun gives (2000); if the meter shows lux, type it under lux."),
        var shown => shown,
    };

    public double? Lux(string? text) => Number(LuxField, text, "type lux, such as 8000.") switch
    {
        null => null,
        < 0 => Refuse(LuxField, text, "must be 0 or more."),
        > 150_000 => Refuse(LuxField, text, "is more than the sun gives (about 110,000)."),
        var shown => shown,
    };

    /// <summary>Millimetres, from centimetres.</summary>
    public double? Centimetres(string field, string? text, double most = 300) => Number(field, text, "type centimetres, such as 14 or 14,5.") switch
    {
        null => null,
        <= 0 => Refuse(field, text, "must be above 0."),
        var shown when shown > most => Refuse(field, text, $"must be at most {Plain(most)} cm; if that was millimetres, type {Plain(shown!.Value / 10)}."),
        var shown => shown * 10,
    };

    /// <summary>A whole number.</summary>
    public int? Count(string field, string? text, int least, int most) => Number(field, text, $"a whole number, {least} to {most}.") switch
    {
        null => null,
        { } shown when shown == Math.Floor(shown) && shown >= least && shown <= most => (int)shown,
        _ => (int?)Refuse(field, text, $"a whole number, {least} to {most}."),
    };

    /// <summary>A positive number in the unit named.</summary>
    public double? Positive(string field, string? text, double most, string unit) => Number(field, text, $"a number of {unit}.") switch
    {
        null => null,
        { } shown when shown >= 0 && shown <= most => shown,
        _ => Refuse(field, text, $"0 to {Plain(most)} {unit}."),
    };

    /// <summary>Litres in the reader's unit.</summary>
    public double? Litres(string field, string? text, double most)
    {
        var shown = Number(field, text, "a number, such as 0.35.");
        if (shown is null)
            return null;
        var litres = units.Volume.ToLitres(shown.Value);
        return litres >= 0 && litres <= most ? litres : Refuse(field, text, $"0 to {Plain(Math.Round(units.Volume.FromLitres(most), 1))} {(units.Volume == VolumeUnit.Litre ? "L" : "US gal")}.");
    }

    /// <summary>A fault of the page's own finding.</summary>
    public double? Refuse(string field, string? text, string accepted)
    {
        _problems.Add(new EntryProblem(field, string.IsNullOrWhiteSpace(text) ? null : text, accepted));
        return null;
    }

    /// <exception cref="EntryException">Something was refused: every field, not only the first.</exception>
    public void Check()
    {
        if (_problems.Count > 0)
            throw new EntryException([.. _problems]);
    }

    private double? Share(string field, string? text, double least) => Number(field, text, "type per cent, such as 65.") switch
    {
        null => null,
        < 0 or > 100 => Refuse(field, text, "must lie between 0 and 100 %."),
        > 0 and < 1 and var shown when least > 0 => Refuse(field, text, $"is drier than any air; if it is a share, type {Plain(shown * 100)}."),
        var shown => shown / 100,
    };

    private double? Number(string field, string? text, string accepted)
    {
        if (Entry.TryReadOptional(text, out var shown))
            return shown;
        return Refuse(field, text, accepted);
    }

    private static string Plain(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
