using System.Globalization;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>What was read, and where.</summary>
public enum ReadingKind
{
    /// <summary>EC of the reservoir at 25 °C, µS/cm.</summary>
    ReservoirEc,

    /// <summary>pH of the reservoir.</summary>
    ReservoirPH,

    /// <summary>Water left in the reservoir, litres.</summary>
    ReservoirLitres,

    /// <summary>EC at 25 °C of the water held in the medium (squeezed out, poured through, or a soak), µS/cm.</summary>
    MediumEc,

    /// <summary>pH of the water held in the medium.</summary>
    MediumPH,

    /// <summary>Alkalinity of the water around the medium, meq/L: a soak test.</summary>
    MediumAlkalinity,
}

/// <summary>One reading of a pot.</summary>
/// <param name="Hours">After the start of the pot's record.</param>
/// <param name="Kind">What.</param>
/// <param name="Value">In the unit of its kind.</param>
/// <param name="Sigma">The reader's error, one standard deviation in the same unit; null for what is usual (<see cref="UsualSigma"/>).</param>
/// <param name="Id">The fact it comes from.</param>
public sealed record PotReading(double Hours, ReadingKind Kind, double Value, double? Sigma = null, Guid? Id = null)
{
    /// <summary>
    /// What a careful reading is off by, one standard deviation: EC 3 % and at least 10 µS/cm, pH 0.1, a level 4 % of a full reservoir, alkalinity
    /// 0.05 meq/L. Common practice, no source; the fit finds out whether the bench does better or worse.
    /// </summary>
    public static double UsualSigma(ReadingKind kind, double value, double reservoirLitres) => kind switch
    {
        ReadingKind.ReservoirEc or ReadingKind.MediumEc => Math.Max(10, 0.03 * value),
        ReadingKind.ReservoirPH or ReadingKind.MediumPH => 0.1,
        ReadingKind.ReservoirLitres => 0.04 * reservoirLitres,
        _ => 0.05,
    };

    internal bool IsEc => Kind is ReadingKind.ReservoirEc or ReadingKind.MediumEc;

    internal bool IsPH => Kind is ReadingKind.ReservoirPH or ReadingKind.MediumPH;
}

/// <summary>Readings that cannot be are caught as they are entered, with what was probably meant.</summary>
public static class ReadingEntry
{
    /// <summary>Looks at what was typed for a pot's reading. Empty when it can be taken as it stands; an error cannot be, a warning should be asked back.</summary>
    /// <param name="kind">What was read.</param>
    /// <param name="value">As typed, in the unit of its kind.</param>
    /// <param name="reservoirLitres">What the reservoir holds when full; for levels.</param>
    /// <param name="expected">What the forecast says, where there is one: an EC a thousand times off is then known for a unit.</param>
    public static IReadOnlyList<InputProblem> Check(ReadingKind kind, double value, double reservoirLitres = 0, Expected? expected = null)
    {
        var problem = kind switch
        {
            ReadingKind.ReservoirPH or ReadingKind.MediumPH => PenReading.PH(value),
            ReadingKind.ReservoirEc or ReadingKind.MediumEc => PenReading.Ec(value, expected),
            ReadingKind.ReservoirLitres => Level(value, reservoirLitres),
            _ => value is >= -5 and <= 50 ? null : InputProblem.Error("alkalinity", Text(value), value is > 50 and <= 2500
                ? Say($"{value:0.##} meq/L is stronger than any soak; {value / 50:0.##} meq/L is {value:0.##} mg/L as calcium carbonate: was that meant? Accepted: -5 to 50 meq/L.")
                : "Accepted: -5 to 50 meq/L."),
        };
        return problem is null ? [] : [problem];
    }

    private static InputProblem? Level(double value, double full)
    {
        if (value >= 0 && (full <= 0 || value <= full * 1.1))
        {
            return null;
        }

        return InputProblem.Error("level", Text(value), value > 0 && full > 0 && value / 1000 <= full * 1.1
            ? Say($"{value:0.##} L do not fit a reservoir of {full:0.##} L; {value:0} mL, which is {value / 1000:0.###} L, was probably meant. Accepted: 0 to {full:0.##} L.")
            : Say($"Accepted: 0 to {full:0.##} L."));
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
