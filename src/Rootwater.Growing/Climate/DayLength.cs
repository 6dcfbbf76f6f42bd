namespace Rootwater.Growing.Climate;

/// <summary>How long the sun is up.</summary>
public static class DayLength
{
    /// <summary>Hours from sunrise to sunset, 0 to 24: cos(half the day) = -tan(latitude) tan(declination), declination 0.409 sin(2π J/365 - 1.39) (FAO-56, equations 24, 25 and 34, from memory).</summary>
    /// <param name="latitudeDegrees">North above zero, -90 to 90.</param>
    /// <param name="dayOfYear">1 to 366.</param>
    public static double Hours(double latitudeDegrees, int dayOfYear)
    {
        var declination = 0.409 * Math.Sin(2 * Math.PI * dayOfYear / 365 - 1.39);
        return 24 / Math.PI * Math.Acos(Math.Clamp(-Math.Tan(latitudeDegrees * Math.PI / 180) * Math.Tan(declination), -1, 1));
    }
}
