using System.Globalization;

namespace Rootwater.Growing;

/// <summary>What an EC or pH pen can have read, wherever it is typed: what cannot be comes back with what was probably meant.</summary>
public static class PenReading
{
    // A feed of 20 to 20,000 µS/cm is what pens are made for; rain reads 5.
    private const double LeastEc = 2, MostEc = 20000;

    /// <summary>Looks at a pH as typed; null when it can be taken.</summary>
    public static InputProblem? PH(double value)
    {
        if (value is >= 2 and <= 12)
        {
            return null;
        }

        // 65 is 6.5 without its point, 655 is 6.55; hundreds are an EC in the wrong box.
        foreach (var by in new[] { 10.0, 100.0 })
        {
            if (value / by is >= 3 and <= 10)
            {
                return InputProblem.Error("pH", Text(value), Say($"A pH of {value:0.###} cannot be; {value / by:0.##} was probably meant.") + (value >= 100 ? Say($" If {value:0} is an EC in µS/cm, it belongs in the other box.") : "") + " Accepted: 2 to 12.");
            }
        }

        return InputProblem.Error("pH", Text(value), value > 100 ? Say($"A pH of {value:0.##} cannot be; it looks like an EC in µS/cm. Accepted: 2 to 12.") : "Accepted: 2 to 12.");
    }

    /// <summary>Looks at an EC as typed, µS/cm; null when it can be taken. A warning should be asked back.</summary>
    /// <param name="value">As typed.</param>
    /// <param name="expected">What it should be, where that is known: an EC a thousand times off is then known for a unit.</param>
    public static InputProblem? Ec(double value, Expected? expected = null)
    {
        if (!(value > 0))
        {
            return InputProblem.Error("EC", Text(value), "Accepted: 2 to 20000 µS/cm.");
        }

        if (value < LeastEc || (value < 15 && expected is { } high && high.Value > 60))
        {
            return InputProblem.Error("EC", Text(value), Say($"{value:0.###} µS/cm is purer than rain; {value:0.###} mS/cm, which is {value * 1000:0} µS/cm, was probably meant. Accepted: 2 to 20000 µS/cm."));
        }

        if (value > MostEc)
        {
            return InputProblem.Error("EC", Text(value), Say($"{value:0} µS/cm is stronger than any feed; {value / 1000:0.##} µS/cm × 1000 or a slipped point? Accepted: 2 to 20000 µS/cm."));
        }

        // Meter ppm: half, 0.64 or 0.7 of the µS/cm. Far outside the forecast, and right on one of the scales inside it.
        if (expected is { } band && (value < band.Low || value > band.High))
        {
            foreach (var scale in new[] { 0.5, 0.64, 0.7 })
            {
                if (value / scale >= band.Low && value / scale <= band.High && value < 0.8 * band.Value)
                {
                    return InputProblem.Warning("EC", Text(value), Say($"The forecast is {band.Low:0} to {band.High:0} µS/cm. If the pen shows ppm on its {scale:0.##} scale, this is {value / scale:0} µS/cm."));
                }
            }
        }

        return null;
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
