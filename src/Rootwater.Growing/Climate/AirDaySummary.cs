using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Climate;

/// <summary>Air and light at a minute of the local day. What is null was not read.</summary>
/// <param name="Minute">0 to 1439.</param>
/// <param name="Celsius">Air.</param>
/// <param name="RelativeHumidity">0 to 1.</param>
/// <param name="Ppfd">µmol m⁻² s⁻¹.</param>
/// <param name="Lux">As the eye sees it.</param>
public readonly record struct AirMoment(int Minute, double? Celsius, double? RelativeHumidity, double? Ppfd, double? Lux);

/// <summary>What a day of samples comes to.</summary>
/// <param name="LowCelsius">Lowest.</param>
/// <param name="MeanCelsius">Mean of the samples.</param>
/// <param name="HighCelsius">Highest.</param>
/// <param name="MeanVpdKilopascals">Mean deficit of the air itself, kPa (leaf at air temperature), FAO-56 eq. 11 sample by sample: not the deficit of the means, which is smaller.</param>
/// <param name="DailyLightMoles">Daily light integral, mol m⁻² d⁻¹.</param>
public sealed record AirDaySummary(double? LowCelsius, double? MeanCelsius, double? HighCelsius, double? MeanVpdKilopascals, double? DailyLightMoles)
{
    /// <param name="moments">Of one local day, by minute.</param>
    /// <param name="lamp">Turns lux into PPFD where PPFD itself was not read.</param>
    public static AirDaySummary Of(IReadOnlyList<AirMoment> moments, Lamp lamp)
    {
        var celsius = moments.Select(moment => moment.Celsius).OfType<double>().ToList();
        var deficits = moments.Where(moment => moment is { Celsius: not null, RelativeHumidity: not null })
            .Select(moment => VapourPressure.DeficitKilopascals(moment.Celsius!.Value, moment.RelativeHumidity!.Value * 100, moment.Celsius.Value)).ToList();
        var light = moments.Where(moment => moment.Ppfd is not null || moment.Lux is not null)
            .Select(moment => (moment.Minute, moment.Ppfd ?? lamp.Ppfd(moment.Lux!.Value))).ToList();
        return new AirDaySummary(
            celsius.Count == 0 ? null : celsius.Min(), celsius.Count == 0 ? null : celsius.Average(), celsius.Count == 0 ? null : celsius.Max(),
            deficits.Count == 0 ? null : deficits.Average(), DailyLight.Integral(light));
    }
}
