using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Growing.Mixing;

/// <summary>How one pen's reading compares with what was expected.</summary>
/// <param name="What">"EC" or "pH".</param>
/// <param name="Unit">µS/cm or pH.</param>
/// <param name="Expected">Value and 95 % band in which a reading is fine: mixing errors and the pen's own.</param>
/// <param name="Measured">What the pen read.</param>
/// <param name="Agrees">Inside the band.</param>
/// <param name="Words">"14 % low", "0.3 high", "agrees".</param>
public sealed record PenCheck(string What, string Unit, Expected Expected, double Measured, bool Agrees, string Words);

/// <summary>Expected against measured, with what to look at first.</summary>
public sealed record CanVerdict
{
    public required bool Agrees { get; init; }
    public required IReadOnlyList<PenCheck> Pens { get; init; }

    /// <summary>What to check before changing anything, the cheapest first. Empty when all agrees.</summary>
    public required IReadOnlyList<string> CheckFirst { get; init; }

    /// <summary>In a sentence.</summary>
    public required string Words { get; init; }

    /// <summary>What would explain it by what earlier cans taught, most likely first; empty without such a history.</summary>
    public IReadOnlyList<Reconciliation.Explanation> Explanations { get; init; } = [];

    /// <summary>How it stands against what earlier cans taught, in a sentence or two; null without such a history, or where nothing needs saying.</summary>
    public string? ByHistory { get; init; }
}

/// <summary>Whether the pens agree with a can's card.</summary>
public static class CanCheck
{
    /// <summary>Compares readings with the card.</summary>
    /// <param name="plan">The can's card.</param>
    /// <param name="tools">The pens and their errors.</param>
    /// <param name="measuredEcMicrosiemensPerCm">As the grower's own pen shows it; null where not read.</param>
    /// <param name="measuredPH">0 to 14; null where not read.</param>
    /// <param name="afterStep">The step after which it was read; null for the finished can.</param>
    /// <exception cref="ArgumentOutOfRangeException">A reading no pen can show, or a step that is not on the card.</exception>
    public static CanVerdict Judge(CanPlan plan, Tools tools, double? measuredEcMicrosiemensPerCm, double? measuredPH, int? afterStep = null)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(tools);
        Refuse(measuredEcMicrosiemensPerCm, 0, 20_000, nameof(measuredEcMicrosiemensPerCm), "µS/cm from 0 to 20,000; a pen that shows mS/cm shows a thousandth of it");
        Refuse(measuredPH, 0, 14, nameof(measuredPH), "0 to 14");
        var step = afterStep is { } number
            ? plan.Steps.FirstOrDefault(each => each.Number == number) ?? throw new ArgumentOutOfRangeException(nameof(afterStep), number, "No step of that number is on the card.")
            : null;
        // Asked for when it was planned; a repaired can is another one.
        var learned = plan.Repairs.Count == 0 ? plan.AsLearned : null;
        var pens = new List<PenCheck>();
        if (measuredEcMicrosiemensPerCm is { } ec)
        {
            pens.Add(Ec(Scaled(step?.EcMicrosiemensPerCm ?? learned?.EcMicrosiemensPerCm ?? plan.EcMicrosiemensPerCm, PenFactor(plan, tools)), ec));
        }

        if (measuredPH is { } ph)
        {
            pens.Add(PH(step?.PH ?? learned?.PH ?? plan.PH, ph));
        }

        var agrees = pens.All(pen => pen.Agrees);
        return new CanVerdict
        {
            Agrees = agrees,
            Pens = pens,
            CheckFirst = agrees ? [] : Checks(plan, tools, pens, step),
            Words = pens.Count == 0 ? "nothing was read" : agrees ? "the pens agree with the card" : string.Join("; ", pens.Where(pen => !pen.Agrees).Select(pen => $"{pen.What} reads {pen.Words}")),
        };
    }

    /// <summary>What the grower's pen shows of a true EC at 25 °C, as a factor: its fixed compensation is not quite the solution's own.</summary>
    internal static double PenFactor(CanPlan plan, Tools tools)
    {
        var conditions = new SolveConditions { Temperature = Temperature.FromCelsius(plan.TemperatureCelsius) };
        return CanChemistry.Run(plan.MolPerKgWater, conditions) is { } solution && plan.EcMicrosiemensPerCm.Value > 1
            ? CardWriter.OnPen(solution, tools.EcPenCompensationPerCelsius) / plan.EcMicrosiemensPerCm.Value
            : 1;
    }

    private static void Refuse(double? reading, double low, double high, string name, string accepted)
    {
        if (reading is { } value && (!double.IsFinite(value) || value < low || value > high))
        {
            throw new ArgumentOutOfRangeException(name, value, $"A reading must be {accepted}.");
        }
    }

    private static Expected Scaled(Expected expected, double factor) => new(expected.Low * factor, expected.Value * factor, expected.High * factor);

    private static PenCheck Ec(Expected expected, double measured)
    {
        var agrees = measured >= expected.Low && measured <= expected.High;
        var off = expected.Value > 0 ? measured / expected.Value - 1 : 0;
        return new PenCheck("EC", "µS/cm", expected, measured, agrees, agrees ? "agrees" : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(off):0 %} {(off < 0 ? "low" : "high")}"));
    }

    private static PenCheck PH(Expected expected, double measured)
    {
        var agrees = measured >= expected.Low && measured <= expected.High;
        var off = measured - expected.Value;
        return new PenCheck("pH", "pH", expected, measured, agrees, agrees ? "agrees" : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(off):0.0} {(off < 0 ? "low" : "high")}"));
    }

    // Cheapest first: a rinse costs nothing, a new can costs an evening.
    private static List<string> Checks(CanPlan plan, Tools tools, List<PenCheck> pens, MixStep? step)
    {
        var ec = pens.FirstOrDefault(pen => pen.What == "EC" && !pen.Agrees);
        var ph = pens.FirstOrDefault(pen => pen.What == "pH" && !pen.Agrees);
        var checks = new List<string> { "rinse the pen in the can itself, swirl, wait a minute and read again" };
        if (plan.TemperatureCelsius is < 20 or > 30)
        {
            checks.Add(string.Create(CultureInfo.InvariantCulture, $"let the pen come to the can's {plan.TemperatureCelsius:0} °C: a pen from a warm pocket compensates for the wrong temperature"));
        }

        if (ec is not null)
        {
            var low = ec.Measured < ec.Expected.Value;
            checks.Add(low ? "look for grains at the bottom: stir until clear and read again" : "stir: what dissolved last may still lie where the pen stands");
            var salts = plan.Steps.FirstOrDefault(each => each.Kind is not (MixStepKind.Water or MixStepKind.Leftover)) is { } first
                ? plan.Steps.TakeWhile(each => each.Number < first.Number).LastOrDefault()?.EcMicrosiemensPerCm.Value ?? 0
                : 0;
            var (now, then) = (ec.Measured - salts, ec.Expected.Value - salts);
            if (now > 0 && then > 0)
            {
                checks.Add(string.Create(CultureInfo.InvariantCulture, $"look at the mark: {plan.Litres * then / now:0.0} L in place of {plan.Litres:0.0} L would explain it"));
            }

            // After a repair the readings before it are the start, not the card's steps.
            if (plan.Repairs.Count == 0 && Explains(plan, step, ec) is { } explained)
            {
                checks.Add(explained);
            }

            checks.Add(string.Create(CultureInfo.InvariantCulture, $"read the EC pen in its 1413 µS/cm standard: it should be within {tools.EcPenRelativeError * ErrorSpread.Interval:0 %}"));
        }

        if (ph is not null)
        {
            checks.Add(plan.EcMicrosiemensPerCm.Value < 300 ? "wait five minutes: a pH pen is slow in water this soft" : "stir and wait two minutes: acid sinks");
            checks.Add(ph.Measured > ph.Expected.Value ? "was all the acid drawn up without air in the syringe, and is the can fresh? It creeps up as carbon dioxide leaves" : "was acid put in twice, or from a stronger bottle?");
            checks.Add("read the pH pen in its buffers 7 and 4");
        }

        return checks;
    }

    // A dose left out, or taken twice, shifts the EC by what its step brings.
    private static string? Explains(CanPlan plan, MixStep? upTo, PenCheck ec)
    {
        var off = ec.Measured - ec.Expected.Value;
        var tolerance = (ec.Expected.High - ec.Expected.Low) / 2;
        MixStep? before = null;
        (MixStep? Step, double Miss) best = (null, tolerance);
        foreach (var step in plan.Steps.Where(step => upTo is null || step.Number <= upTo.Number))
        {
            var brings = step.EcMicrosiemensPerCm.Value - (before?.EcMicrosiemensPerCm.Value ?? 0);
            before = step;
            if (step.Kind is MixStepKind.Water or MixStepKind.Leftover || Math.Abs(brings) < tolerance)
            {
                continue;
            }

            var miss = Math.Abs(Math.Abs(off) - brings);
            if (miss < best.Miss)
            {
                best = (step, miss);
            }
        }

        return best.Step is { } found ? $"{(off < 0 ? "leaving out" : "taking twice")} step {found.Number} ({found.What}) would explain it" : null;
    }
}
