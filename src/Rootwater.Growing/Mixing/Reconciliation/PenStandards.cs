namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What buffers and EC standards are at the temperature they are used at.</summary>
public static class PenStandards
{
    /// <summary>Spread of a fresh standard and of the reading in it: EC relative, pH. From memory: bottles state 1 % and 0.02.</summary>
    public const double EcRelative = 0.008, PH = 0.025;

    /// <summary>The temperatures of the tables, °C; between them straight lines, beyond them the ends hold.</summary>
    public static IReadOnlyList<double> TableCelsius { get; } = [15, 20, 25, 30];

    // pH of the common buffers at 15, 20, 25, 30 °C. Phthalate 4.01 and phosphate 6.86: NIST (Wu, Koch and Durst 1988, SP 260-53), from memory; 7.00, 9.18 and 10.01 as
    // bottles of the trade print them, from memory.
    private static readonly (double At25, double[] PH)[] s_buffers =
    [
        (4.01, [3.999, 4.002, 4.008, 4.015]),
        (6.86, [6.900, 6.881, 6.865, 6.853]),
        (7.00, [7.04, 7.02, 7.00, 6.99]),
        (9.18, [9.276, 9.225, 9.180, 9.139]),
        (10.01, [10.12, 10.06, 10.01, 9.97]),
    ];

    // 0.01 mol/L potassium chloride, µS/cm at 15, 20, 25, 30 °C: the table on bottles of 1413, from memory. What a pen compensates with 2 % per °C it need not know.
    private static readonly double[] s_potassiumChloride = [1147, 1278, 1413, 1552];

    /// <summary>The buffers with a table, as printed for 25 °C.</summary>
    public static IReadOnlyList<double> Buffers { get; } = [.. s_buffers.Select(buffer => buffer.At25)];

    /// <summary>EC standards of the trade, µS/cm at 25 °C (potassium chloride; from memory): they follow the temperature as the 1413 does, within half a per cent.</summary>
    public static IReadOnlyList<double> EcStandards { get; } = [84, 447, 1413, 2764, 12880];

    /// <summary>pH of a buffer at a temperature; the printed value where the buffer is not one of the usual ones.</summary>
    /// <param name="at25">As printed for 25 °C.</param>
    /// <param name="celsius">5 to 40; beyond 15 to 30 the ends hold.</param>
    public static double BufferPH(double at25, double celsius)
    {
        foreach (var (printed, ph) in s_buffers)
        {
            if (Math.Abs(printed - at25) < 0.02)
            {
                return Between(ph, celsius);
            }
        }

        return at25;
    }

    /// <summary>EC of 0.01 mol/L potassium chloride (the 1413 standard), µS/cm, as it is at a temperature.</summary>
    public static double PotassiumChlorideEc(double celsius) => Between(s_potassiumChloride, celsius);

    /// <summary>What an EC pen without error shows in a standard, µS/cm at its own reference temperature.</summary>
    /// <param name="at25">As printed for 25 °C, µS/cm.</param>
    /// <param name="celsius">Of the standard.</param>
    /// <param name="pen">Its compensation and reference.</param>
    public static double ShownEc(double at25, double celsius, Pen pen) =>
        at25 * PotassiumChlorideEc(celsius) / PotassiumChlorideEc(25) / (1 + pen.CompensationPerCelsius * (celsius - pen.ReferenceCelsius));

    /// <summary>What a pen without error shows in a standard at a temperature, in the unit of its kind.</summary>
    public static double Shown(Pen pen, double at25, double celsius) => pen.Kind == PenKind.Ec ? ShownEc(at25, celsius, pen) : BufferPH(at25, celsius);

    private static double Between(double[] at15To30, double celsius)
    {
        var place = Math.Clamp((celsius - 15) / 5, 0, 3);
        var i = Math.Min(2, (int)place);
        return at15To30[i] + (place - i) * (at15To30[i + 1] - at15To30[i]);
    }
}
