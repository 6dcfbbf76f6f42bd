using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>In words, how forecasts are corrected by what earlier ones were off by.</summary>
internal static class BandCorrectionWords
{
    /// <summary>For the page of pots: what becomes of the next forecast of such a pot.</summary>
    public static string Of(PotsAlike pots, BandCorrections by)
    {
        string[] all = [by.PH.Met > 0 ? PH(by.PH) : "", by.Ec.Met > 0 ? Ec(by.Ec) : "", by.Level.Met > 0 ? Level(by.Level) : ""];
        return FactWords.Say($"{pots.Medium}, {CultureWords.Of(pots.Culture)}{(RootForecastBelieved.IsFitted(pots.Model) ? ", fitted" : "")}: {string.Join("; ", all.Where(words => words.Length > 0))}.");
    }

    /// <summary>For the mixing card, which shows the root alone.</summary>
    public static string AtTheRoot(PotsAlike pots, BandCorrections by)
    {
        var model = RootForecastBelieved.IsFitted(pots.Model) ? "what the fit says" : "what the data sheet says";
        return by is { PH.Met: 0, Ec.Met: 0 }
            ? FactWords.Say($"No forecast of such pots was met by a reading yet: bands {by.PH.Factor:0.0} times as wide as {model}.")
            : FactWords.Say($"Corrected by what the last forecasts of such pots were off by: {PH(by.PH)}; {Ec(by.Ec)}.");
    }

    private static string PH(BandCorrection by) => Words("pH", by, shift => FactWords.Say($"moved by {shift:+0.0;-0.0} within a week"));

    private static string Ec(BandCorrection by) => Words("EC", by, shift => FactWords.Say($"moved to {Math.Exp(shift):0.0} times within a week"));

    private static string Level(BandCorrection by) => Words("level", by, shift => FactWords.Say($"moved by {100 * shift:+0;-0} % of a full reservoir within a week"));

    private static string Words(string what, BandCorrection by, Func<double, string> moved) =>
        FactWords.Say($"{what}: {by.Factor:0.0} times as wide{(by.Shift == 0 ? "" : ", " + moved(by.Shift))} ({by.Met} {(by.Met == 1 ? "reading" : "readings")})");
}
