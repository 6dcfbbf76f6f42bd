using System.Globalization;

namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What was typed while a pen stood in a buffer or standard: what cannot be is caught, with what was probably meant.</summary>
public static class CalibrationEntry
{
    // A pen further off than this is broken, or stands in something else. Common practice, no source.
    private const double MostPHOff = 1.5, MostEcFactor = 1.6;

    /// <summary>Looks at one standard and what was read in it. Empty when it can be taken.</summary>
    /// <param name="pen">Whose kind, compensation and reference count.</param>
    /// <param name="at25">As printed for 25 °C: a pH, or µS/cm.</param>
    /// <param name="reading">As shown before adjusting, in the same unit.</param>
    /// <param name="celsius">Of the standard.</param>
    public static IReadOnlyList<InputProblem> Check(Pen pen, double at25, double reading, double celsius)
    {
        var problems = new List<InputProblem>();
        if (!(celsius is >= 5 and <= 40))
        {
            problems.Add(InputProblem.Error("temperature", Text(celsius), celsius is > 40 and <= 104 ? Say($"{(celsius - 32) / 1.8:0.#} °C was probably meant, which is {celsius:0.#} °F. Accepted: 5 to 40 °C.") : "Accepted: 5 to 40 °C."));
        }

        if (pen.Kind == PenKind.PH ? !(at25 is >= 1 and <= 13) : !(at25 is >= 10 and <= 120_000))
        {
            problems.Add(InputProblem.Error("standard", Text(at25), pen.Kind == PenKind.PH ? "Accepted: a buffer from pH 1 to 13, such as 4.01 or 7.00."
                : at25 is > 0.01 and < 10 or 12.88 ? Say($"{at25:0.###} mS/cm, which is {at25 * 1000:0} µS/cm, was probably meant. Accepted: 10 to 120,000 µS/cm.") : "Accepted: a standard from 10 to 120,000 µS/cm, such as 1413."));
        }

        if (problems.Count > 0)
        {
            return problems;
        }

        var shown = PenStandards.Shown(pen, at25, celsius);
        if (pen.Kind == PenKind.PH ? !(Math.Abs(reading - shown) <= MostPHOff) : !(reading >= shown / MostEcFactor && reading <= shown * MostEcFactor))
        {
            problems.Add(InputProblem.Error("reading", Text(reading), Meant(pen, shown, reading, celsius)));
        }

        return problems;
    }

    private static string Meant(Pen pen, double shown, double reading, double celsius)
    {
        if (pen.Kind == PenKind.PH)
        {
            foreach (var by in new[] { 10.0, 100.0 })
            {
                if (Math.Abs(reading / by - shown) <= MostPHOff)
                {
                    return Say($"{reading / by:0.0#} was probably meant. Accepted: {shown - MostPHOff:0.0} to {shown + MostPHOff:0.0} in this buffer; a pen further off is broken.");
                }
            }

            var other = PenStandards.Buffers.MinBy(buffer => Math.Abs(PenStandards.BufferPH(buffer, celsius) - reading));
            return Math.Abs(PenStandards.BufferPH(other, celsius) - reading) < 0.5
                ? Say($"This is what buffer {other:0.00} reads: was it that bottle? Accepted: {shown - MostPHOff:0.0} to {shown + MostPHOff:0.0}.")
                : Say($"Accepted: {shown - MostPHOff:0.0} to {shown + MostPHOff:0.0} in this buffer; a pen further off is broken, or stands in something else.");
        }

        if (reading > 0 && reading * 1000 >= shown / MostEcFactor && reading * 1000 <= shown * MostEcFactor)
        {
            return Say($"{reading:0.###} mS/cm, which is {reading * 1000:0} µS/cm, was probably meant. Accepted: {shown / MostEcFactor:0} to {shown * MostEcFactor:0} µS/cm.");
        }

        if (reading / 1000 >= shown / MostEcFactor && reading / 1000 <= shown * MostEcFactor)
        {
            return Say($"{reading / 1000:0} µS/cm, which is {reading / 1e6:0.###} mS/cm, was probably meant. Accepted: {shown / MostEcFactor:0} to {shown * MostEcFactor:0} µS/cm.");
        }

        foreach (var scale in new[] { 0.5, 0.64, 0.7 })
        {
            if (Math.Abs(reading / (shown * scale) - 1) < 0.05)
            {
                return Say($"If the pen shows ppm on its {scale:0.##} scale, this is {reading / scale:0} µS/cm. Accepted: {shown / MostEcFactor:0} to {shown * MostEcFactor:0} µS/cm.");
            }
        }

        return Say($"Accepted: {shown / MostEcFactor:0} to {shown * MostEcFactor:0} µS/cm in this standard; a pen further off is broken, or stands in something else.");
    }

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
