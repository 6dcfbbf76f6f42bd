namespace Rootwater.Growing.Pots;

/// <summary>A wet surface that evaporates into room air: how cool it gets and how much it loses. Evaporating clay is cooler than the air.</summary>
/// <remarks>
/// The surface settles where the heat it draws from the air equals what evaporation takes (the wet-bulb balance):
/// e°(T_s) - e_a = a P (T_a - T_s), with a = 0.0012 per °C for a wet bulb indoors without forced air (FAO-56, text under eq. 16, from memory;
/// 0.000662 for a ventilated one). Valid from 0 to 50 °C and 1 to 100 % relative humidity.
/// </remarks>
public static class WetSurface
{
    /// <summary>Psychrometer coefficient of still room air, per °C (FAO-56, from memory).</summary>
    public const double StillRoomAirPerCelsius = 0.0012;

    /// <summary>Psychrometer coefficient of air blown over the bulb at about 5 m/s, per °C (FAO-56, from memory).</summary>
    public const double VentilatedPerCelsius = 0.000662;

    /// <summary>Temperature of a wholly wet surface, °C: between the wet bulb and the air.</summary>
    /// <param name="airCelsius">Air temperature, °C.</param>
    /// <param name="actualKilopascals">Actual vapour pressure of the air, kPa.</param>
    /// <param name="psychrometerPerCelsius">The coefficient a above, per °C.</param>
    /// <param name="airKilopascals">Air pressure, kPa.</param>
    public static double TemperatureCelsius(double airCelsius, double actualKilopascals, double psychrometerPerCelsius = StillRoomAirPerCelsius, double airKilopascals = VapourPressure.SeaLevelKilopascals)
    {
        // The left side rises and the right side falls with T_s, so there is one root; Newton from above never overshoots it on this convex curve.
        var surface = airCelsius;
        for (var i = 0; i < 50; i++)
        {
            var saturation = VapourPressure.SaturationKilopascals(surface);
            var slope = saturation * 17.27 * 237.3 / ((surface + 237.3) * (surface + 237.3));
            var step = (saturation - actualKilopascals - psychrometerPerCelsius * airKilopascals * (airCelsius - surface)) / (slope + psychrometerPerCelsius * airKilopascals);
            surface -= step;
            if (Math.Abs(step) < 1e-10)
            {
                break;
            }
        }

        return surface;
    }
}
