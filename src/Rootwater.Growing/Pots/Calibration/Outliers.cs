namespace Rootwater.Growing.Pots.Calibration;

/// <summary>How a reading that is far off is taken: as one of the few that went wrong, by its chance of being one; it is weighed less and never left out.</summary>
/// <remarks>
/// A reading's error is normal with chance 0.97 and normal but eight times as wide with chance 0.03 (from memory: one in thirty
/// goes wrong). The weight is the mean precision under the two; a reading within two errors keeps 0.98 of its weight, one four errors off 0.14.
/// </remarks>
internal static class Outliers
{
    private const double Share = 0.03;
    private const double Wide = 8;

    /// <summary>Chance that a reading this many errors off went wrong.</summary>
    public static double Chance(double errors)
    {
        var good = (1 - Share) * Math.Exp(-0.5 * errors * errors);
        var bad = Share / Wide * Math.Exp(-0.5 * errors * errors / (Wide * Wide));
        return bad / (good + bad);
    }

    /// <summary>Weight of such a reading, above 0 to 1.</summary>
    public static double Weight(double errors) => 1 - Chance(errors) * (1 - 1 / (Wide * Wide));

    /// <summary>Minus the logarithm of its likelihood, without the constant of the normal.</summary>
    public static double Loss(double errors) =>
        -Math.Log((1 - Share) * Math.Exp(-0.5 * errors * errors) + Share / Wide * Math.Exp(-0.5 * errors * errors / (Wide * Wide)));
}
