using Rootwater.Growing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What is believed of a lot, water, tool or pen, in a sentence.</summary>
internal static class CorrectionWords
{
    public static string UnitOf(ErrorSourceKind kind) => kind switch
    {
        ErrorSourceKind.WaterAlkalinity => "meq/L",
        ErrorSourceKind.PHPenOffset => "pH",
        ErrorSourceKind.LotAcidity => "spreads",
        _ => "share",
    };

    /// <summary>"magnesium nitrate holds 8 % less than its label (5 to 11 %)".</summary>
    public static string Of(Correction correction, string name)
    {
        var (value, more) = (correction.Value, correction.Value.Value > 0);
        return correction.Source.Kind switch
        {
            ErrorSourceKind.LotStrength => $"{name} holds {Share(value)} {(more ? "more" : "less")} than its label {Band(value)}",
            ErrorSourceKind.LotAcidity => $"{name} is more {(more ? "acid" : "basic")} than its label lets one think",
            ErrorSourceKind.Scale => $"the scale puts in {Share(value)} {(more ? "more" : "less")} than it shows {Band(value)}",
            ErrorSourceKind.Syringe => $"the syringe gives {Share(value)} {(more ? "more" : "less")} than it shows {Band(value)}",
            ErrorSourceKind.WaterStrength => $"{name} carries {Share(value)} {(more ? "more" : "less")} than its report {Band(value)}",
            ErrorSourceKind.WaterAlkalinity => FactWords.Say($"{name} has {Math.Abs(value.Value):0.00} meq/L {(more ? "more" : "less")} alkalinity than its report ({value.Low:+0.00;−0.00} to {value.High:+0.00;−0.00})"),
            ErrorSourceKind.Vessel => $"the mark of {name} stands {Share(value)} too {(more ? "high" : "low")} {Band(value)}",
            ErrorSourceKind.EcPen => $"{name} reads {Share(value)} too {(more ? "high" : "low")} {Band(value)}",
            ErrorSourceKind.PHPenOffset => FactWords.Say($"{name} reads {Math.Abs(value.Value):0.00} too {(more ? "high" : "low")} ({value.Low:+0.00;−0.00} to {value.High:+0.00;−0.00})"),
            _ => $"the slope of {name} is {Share(value)} too {(more ? "steep" : "flat")} {Band(value)}",
        };
    }

    /// <summary>What a correction that is told does to one can, added to its sentence.</summary>
    public static string Of(KnownShare known, string name) => Of(known.Correction, name) + (Math.Abs(known.EcShare) >= 0.003, Math.Abs(known.PH) >= 0.02) switch
    {
        (true, true) => FactWords.Say($": EC {known.EcShare * 100:+0.0;−0.0} %, pH {known.PH:+0.00;−0.00} here"),
        (true, false) => FactWords.Say($": EC {known.EcShare * 100:+0.0;−0.0} % here"),
        _ => FactWords.Say($": pH {known.PH:+0.00;−0.00} here"),
    };

    private static string Share(Expected value) => FactWords.Say($"{Math.Abs(value.Value) * 100:0.#} %");

    private static string Band(Expected value) => value.Low > 0 || value.High < 0
        ? FactWords.Say($"({Math.Min(Math.Abs(value.Low), Math.Abs(value.High)) * 100:0.#} to {Math.Max(Math.Abs(value.Low), Math.Abs(value.High)) * 100:0.#} %)")
        : FactWords.Say($"({value.Low * 100:+0.#;−0.#} to {value.High * 100:+0.#;−0.#} %)");
}
