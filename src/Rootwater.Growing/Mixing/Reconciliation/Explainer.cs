using System.Globalization;

namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>Something that would explain what the pens read.</summary>
/// <param name="What">In a sentence: the cause and its size.</param>
/// <param name="Chance">Among the causes looked at and "nothing but chance", 0 to 1.</param>
/// <param name="Check">What to do to find out.</param>
/// <param name="Minutes">About how long that takes.</param>
/// <param name="Source">The source of error it is about; null for a slip.</param>
public sealed record Explanation(string What, double Chance, string Check, double Minutes, ErrorSource? Source)
{
    /// <summary>What is learned for the time: the one with the most is checked first.</summary>
    public double ChancePerMinute => Chance / Minutes;
}

/// <summary>A source as it stands when a can is judged.</summary>
/// <param name="Effect">What it does to this can.</param>
/// <param name="Before">What was believed of it.</param>
/// <param name="Sd">How uncertain that is.</param>
/// <param name="Unchecked">How much of the usual time to go wrong has passed since it was last checked by itself, 0 to 1: a pen that stood in its standard yesterday has hardly jumped.</param>
internal sealed record KnownCause(Effect Effect, Correction Before, double Sd, double Unchecked = 1);

/// <summary>Ranks what would explain a can: each known source being more wrong than believed, and each slip of the hand.</summary>
/// <remarks>
/// By Bayes over single causes: a source may have jumped as far as such things do, a slip has its exact effect, a wrong volume and grains at the bottom may be of any size and
/// are averaged over it, so that a cause that fits anything is not put before one that fits exactly. Each is weighed by how common it is and how far it jumps (from memory, no
/// source) and by how well it then predicts both readings together. Two causes at once are not looked for.
/// </remarks>
internal static class Explainer
{
    private const double Wider = 4;

    // How common, relative to one another; what an evening's mixing gets wrong most. From memory.
    private const double ChanceAlone = 0.25, LeftOut = 0.02, Twice = 0.01, WrongVolume = 0.10, NotDissolved = 0.03, CarbonDioxide = 0.06, MeterPpm = 0.01;

    // A can filled to another mark, and what stays at the bottom: one standard deviation of their size, as shares.
    private const double FillJump = 0.15, GrainsJump = 0.15;

    public static IReadOnlyList<Explanation> Explain(CanRecord can, CanSensitivity sensitivity, IReadOnlyList<KnownCause> causes, double? ec, double? ph, double ecVariance, double phVariance, double cross)
    {
        var scene = new Scene(ec, ph, ecVariance, phVariance, cross);
        var found = new List<(double Weight, Explanation Explanation)> { (ChanceAlone * scene.Likelihood(0, 0, 0), new Explanation("Nothing but chance: readings this far off happen.", 0, "rinse the pens in the can itself, wait a minute and read again", 1, null)) };
        foreach (var cause in causes.Where(cause => cause.Sd > 0))
        {
            var drinks = Drinks(cause.Effect);
            var extra = Math.Max((Wider * Wider - 1) * cause.Sd * cause.Sd, Math.Pow(Jump(cause.Effect.Source.Kind, drinks), 2));
            // What earlier cans saw drawing water goes on drawing it.
            var goesOn = drinks && cause.Before.Value.Value < -cause.Sd ? 2 : 1;
            var weight = goesOn * cause.Unchecked * Commonness(cause.Effect.Source.Kind, drinks) * scene.Likelihood(cause.Effect.LnEc, cause.Effect.PH, extra);
            var (amount, sd) = scene.Estimate(cause.Effect.LnEc, cause.Effect.PH, extra + cause.Sd * cause.Sd);
            found.Add((weight, new Explanation(Words(cause, cause.Before.Value.Value + amount, sd), 0, CheckOf(cause.Effect.Source), MinutesOf(cause.Effect.Source.Kind), cause.Effect.Source)));
        }

        void Slip(double common, (double LnEc, double PH) shift, string what, string check, double minutes) =>
            found.Add((common * scene.LikelihoodAt(shift.LnEc, shift.PH), new Explanation(what, 0, check, minutes, null)));

        foreach (var dose in can.Doses)
        {
            Slip(LeftOut, sensitivity.OfDose(dose, -1), $"{dose.Name} was left out.", $"is the bag of {dose.Name} where it was used, and is its step ticked?", 1);
            Slip(Twice, sensitivity.OfDose(dose, 1), $"{dose.Name} went in twice.", $"weigh the bag of {dose.Name} against what should be left", 2);
        }

        // The volume that would explain the EC, if it is one a hand could have filled to.
        if (ec is { } off && off != 0 && sensitivity.FillLnEc < -0.1)
        {
            var (much, _) = scene.Estimate(sensitivity.FillLnEc, sensitivity.FillPH, FillJump * FillJump);
            var litres = can.Litres * Math.Exp(much);
            if (Math.Abs(much) > 0.03)
            {
                found.Add((WrongVolume * scene.Likelihood(sensitivity.FillLnEc, sensitivity.FillPH, FillJump * FillJump),
                    new Explanation(Say($"The can held {litres:0.0} L in place of {can.Litres:0.0} L."), 0, "look at the mark, and at what was in the can before", 1, null)));
            }

            if (off < 0)
            {
                // Only ever less: twice the density of either side.
                found.Add((2 * NotDissolved * scene.Likelihood(1, 0, GrainsJump * GrainsJump), new Explanation(Say($"{1 - Math.Exp(off):0 %} lies undissolved at the bottom."), 0, "stir until clear and read again", 2, null)));
            }
        }

        Slip(CarbonDioxide, (0, sensitivity.PHInAir()), "The can has stood open: carbon dioxide has come or gone.", "was it read fresh? If not, read the next one fresh", 1);
        foreach (var scale in new[] { 0.5, 0.64, 0.7 })
        {
            Slip(MeterPpm, (Math.Log(scale), 0), Say($"The pen shows ppm on its {scale:0.##} scale and not µS/cm."), "look at the pen's unit", 0.2);
        }

        var all = found.Sum(each => each.Weight);
        return all > 0
            ? [.. found.Select(each => each.Explanation with { Chance = each.Weight / all }).Where(each => each.Chance > 0.01).OrderByDescending(each => each.Chance).Take(8)]
            : [.. found.Select(each => each.Explanation).Take(1)];
    }

    // A lot that draws water wanders fast.
    private static bool Drinks(Effect effect) => effect.Source.Kind == ErrorSourceKind.LotStrength && effect.WanderSd > 0.3 * effect.PriorSd;

    // How far such a thing is off once it is off, one standard deviation in its unit.
    internal static double Jump(ErrorSourceKind kind, bool drinks) => kind switch
    {
        ErrorSourceKind.LotStrength => drinks ? 0.15 : 0.06,
        ErrorSourceKind.WaterStrength => 0.4,
        ErrorSourceKind.WaterAlkalinity => 0.6,
        ErrorSourceKind.EcPen => 0.10,
        ErrorSourceKind.PHPenOffset => 0.25,
        ErrorSourceKind.Vessel => 0.06,
        _ => 0,
    };

    private static double Commonness(ErrorSourceKind kind, bool drinks) => kind switch
    {
        ErrorSourceKind.LotStrength => drinks ? 0.15 : 0.03,
        ErrorSourceKind.EcPen => 0.08,
        ErrorSourceKind.PHPenOffset => 0.15,
        ErrorSourceKind.WaterStrength => 0.10,
        ErrorSourceKind.WaterAlkalinity => 0.10,
        ErrorSourceKind.LotAcidity => 0.04,
        _ => 0.03,
    };

    private static string Words(KnownCause cause, double amount, double sd)
    {
        var source = cause.Effect.Source;
        var (size, more) = (Math.Abs(amount), amount > 0);
        var told = cause.Before.Cans > 1 && cause.Before.IsTold && cause.Before.Value.Value * amount > 0
            ? Say($" (the last {cause.Before.Cans - 1} cans with it say {Math.Abs(cause.Before.Value.Value):0.# %} too)")
            : cause.Before.Cans > 1 && cause.Before.Value.Value * amount > 0 && Math.Abs(cause.Before.Value.Value) > cause.Sd
            ? Say($" (earlier cans lean that way, by {Math.Abs(cause.Before.Value.Value):0.# %})")
            : "";
        return source.Kind switch
        {
            ErrorSourceKind.LotStrength => more ? Say($"{source.Name} holds {size:0 %} more than its label{told}.") : Say($"{source.Name} holds {size:0 %} less than its label: it has drawn water, or the label is generous{told}."),
            ErrorSourceKind.LotAcidity => Say($"{source.Name} is more {(cause.Effect.PH * amount < 0 ? "acid" : "basic")} than its label lets one think."),
            ErrorSourceKind.Scale => Say($"The scale weighs {size:0.0 %} too {(more ? "little, so that too much goes in" : "much, so that too little goes in")}."),
            ErrorSourceKind.Syringe => Say($"The syringe gives {size:0 %} too {(more ? "much" : "little")}."),
            ErrorSourceKind.WaterStrength => Say($"{source.Name} carries {size:0 %} {(more ? "more" : "less")} than its report: the water changed{told}."),
            ErrorSourceKind.WaterAlkalinity => Say($"{source.Name} has {size:0.00} meq/L {(more ? "more" : "less")} alkalinity than its report: the water changed."),
            ErrorSourceKind.Vessel => Say($"The mark of {source.Name} stands {size:0 %} too {(more ? "high" : "low")}."),
            ErrorSourceKind.EcPen => Say($"{source.Name} reads {size:0 %} too {(more ? "high" : "low")}{(told.Length > 0 ? " (as it did before)" : "")}."),
            ErrorSourceKind.PHPenOffset => Say($"{source.Name} reads {size:0.00} too {(more ? "high" : "low")}."),
            _ => Say($"The slope of {source.Name} is off by {size:0 %}."),
        } + (sd > size ? " Hardly told by these readings." : "");
    }

    private static string CheckOf(ErrorSource source) => source.Kind switch
    {
        ErrorSourceKind.LotStrength => $"look at {source.Name}: damp or caked? Dissolve 1 g in 1 L of pure water and read the EC",
        ErrorSourceKind.LotAcidity => $"dissolve 1 g of {source.Name} in 1 L and read the pH",
        ErrorSourceKind.Scale => "weigh something known: a coin, or 100 mL of water in a measuring flask",
        ErrorSourceKind.Syringe => "weigh ten full syringes of water",
        ErrorSourceKind.WaterStrength => $"read the EC of {source.Name} by itself",
        ErrorSourceKind.WaterAlkalinity => $"take the KH of {source.Name} with drops",
        ErrorSourceKind.Vessel => $"weigh {source.Name} empty and filled to its mark",
        ErrorSourceKind.EcPen => "read the EC pen in its 1413 µS/cm standard",
        _ => "read the pH pen in its buffers 7 and 4",
    };

    private static double MinutesOf(ErrorSourceKind kind) => kind switch
    {
        ErrorSourceKind.WaterStrength => 1,
        ErrorSourceKind.EcPen or ErrorSourceKind.PHPenOffset or ErrorSourceKind.PHPenSlope or ErrorSourceKind.WaterAlkalinity => 3,
        ErrorSourceKind.Scale => 3,
        ErrorSourceKind.LotStrength or ErrorSourceKind.LotAcidity => 10,
        _ => 5,
    };

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    /// <summary>The two deviations with their covariance; one may be missing.</summary>
    private sealed class Scene(double? ec, double? ph, double ecVariance, double phVariance, double cross)
    {
        /// <summary>Likelihood of the readings when a source of these slopes has so much variance more.</summary>
        public double Likelihood(double ecSlope, double phSlope, double extra) =>
            Density(ec ?? 0, ph ?? 0, ecVariance + ecSlope * ecSlope * extra, phVariance + phSlope * phSlope * extra, cross + ecSlope * phSlope * extra);

        /// <summary>The same when something has moved both by exactly so much.</summary>
        public double LikelihoodAt(double ecShift, double phShift) => Density((ec ?? 0) - ecShift, (ph ?? 0) - phShift, ecVariance, phVariance, cross);

        /// <summary>How much of a source explains the readings best, given so much variance of its own, and how well that is told.</summary>
        public (double Amount, double Sd) Estimate(double ecSlope, double phSlope, double variance)
        {
            var (a, b, c) = (ecVariance + ecSlope * ecSlope * variance, phVariance + phSlope * phSlope * variance, cross + ecSlope * phSlope * variance);
            var (ge, gp) = (ecSlope * variance, phSlope * variance);
            if (ec is null || ph is null)
            {
                return ec is { } one ? (ge / a * one, Math.Sqrt(Math.Max(0, variance - ge * ge / a))) : ph is { } other ? (gp / b * other, Math.Sqrt(Math.Max(0, variance - gp * gp / b))) : (0, Math.Sqrt(variance));
            }

            var determinant = a * b - c * c;
            var (we, wp) = ((b * ge - c * gp) / determinant, (a * gp - c * ge) / determinant);
            return (we * ec.Value + wp * ph.Value, Math.Sqrt(Math.Max(0, variance - we * ge - wp * gp)));
        }

        private double Density(double x, double y, double a, double b, double c)
        {
            if (ec is null || ph is null)
            {
                var (value, spread) = ec is null ? (y, b) : (x, a);
                return Math.Exp(-0.5 * value * value / spread) / Math.Sqrt(spread);
            }

            var determinant = Math.Max(1e-300, a * b - c * c);
            return Math.Exp(-0.5 * (b * x * x - 2 * c * x * y + a * y * y) / determinant) / Math.Sqrt(determinant);
        }
    }
}
