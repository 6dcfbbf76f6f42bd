namespace Rootwater.Growing.Pots;

/// <summary>What a pot loses to the air in a day, and how cool that keeps it.</summary>
/// <param name="EvaporationLitresPerDay">From the medium's wet surface.</param>
/// <param name="TranspirationLitresPerDay">Through the leaves.</param>
/// <param name="MediumCelsius">Temperature of the medium and its water: the air's, less the wet share of its surface times how much cooler a wholly wet surface is.</param>
/// <param name="WetSurfaceCelsius">Temperature of a wholly wet surface in this air.</param>
/// <param name="DeficitKilopascals">Vapour pressure deficit of the air at leaf temperature.</param>
public readonly record struct WaterLoss(double EvaporationLitresPerDay, double TranspirationLitresPerDay, double MediumCelsius, double WetSurfaceCelsius, double DeficitKilopascals)
{
    private const double SecondsPerDay = 86400;
    private const double LitresPerMole = 0.018015;

    public double LitresPerDay => EvaporationLitresPerDay + TranspirationLitresPerDay;

    /// <summary>
    /// Flux = conductance × vapour pressure difference / air pressure (mol m-2 s-1), over the exposed wet surface and over the leaves.
    /// Leaves are open for the light hours (by day or, in CAM plants, for as long by night: the mean air is the same here).
    /// </summary>
    public static WaterLoss Of(PotSetup setup, PotClimate climate, PotParameters parameters)
    {
        var vapour = climate.ActualVapourKilopascals;
        var wet = WetSurface.TemperatureCelsius(climate.AirTemperatureCelsius, vapour);
        var wetShare = setup.Medium.WetSurfaceShare;
        var evaporation = parameters.SurfaceConductanceMolPerM2Second
            * Math.Max(0, VapourPressure.SaturationKilopascals(wet) - vapour) / VapourPressure.SeaLevelKilopascals
            * SecondsPerDay * LitresPerMole * setup.ExposedSquareMetres * wetShare;

        var deficit = VapourPressure.DeficitKilopascals(climate.AirTemperatureCelsius, climate.RelativeHumidityPercent, climate.AirTemperatureCelsius - parameters.LeafCoolingCelsius);
        var openShare = climate.LightHoursPerDay / 24;
        var conductance = parameters.LeafConductanceMolPerM2Second * openShare + parameters.ClosedLeafConductanceMolPerM2Second * (1 - openShare);
        var transpiration = conductance * deficit / VapourPressure.SeaLevelKilopascals * SecondsPerDay * LitresPerMole * setup.LeafAreaSquareMetres;

        var medium = climate.AirTemperatureCelsius - wetShare * (climate.AirTemperatureCelsius - wet);
        return new WaterLoss(evaporation * parameters.WaterLossFactor, transpiration * parameters.WaterLossFactor, medium, wet, deficit);
    }
}
