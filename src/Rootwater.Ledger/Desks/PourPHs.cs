using System.Collections.Concurrent;
using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>The pH to pour at: the pot forecast turned round, where it was computed; common practice until then.</summary>
/// <remarks>The search runs a pot model dozens of times, so a page that lists who is due never waits for it: planning does, once per kind of pot and want.</remarks>
internal static class PourPHs
{
    // A pen cannot tell less than this apart, and a planner needs room to dose in.
    private const double NarrowestHalfBand = 0.2;

    private static readonly ConcurrentDictionary<string, Band> s_found = new();

    /// <summary>What is known without waiting.</summary>
    public static (Band Band, string From) For(Want want, PotRow pot, FittedPot? known = null) => s_found.TryGetValue(Key(want, pot, known), out var found)
        ? (found, known is null ? "from the pot forecast: where the root stays in its window longest" : "from the pot forecast, fitted to what was read: where the root stays in its window longest")
        : pot.Culture == Culture.Wicking
            // Common practice, no source: clay lifts what is poured, so it is poured below the roots' window.
            ? (new Band(5.6, 5.8, 6.0), "common practice for wicking pots: they lift it to the roots' window within days")
            : (new Band(want.RootPH.Low, Math.Min(want.RootPH.Ideal, want.RootPH.Low + 0.2), want.RootPH.Ideal), "the roots' window: this culture lifts it little (common practice)");

    /// <summary>Computes it for a pot and a want, once.</summary>
    public static void Compute(Want want, PotRow pot, FittedPot? known = null) => s_found.GetOrAdd(Key(want, pot, known), _ =>
    {
        try
        {
            var setup = PotModels.SetupOf(pot);
            var advice = PotInverse.BestPour(new PourRequest
            {
                Setup = setup,
                Parameters = known?.Parameters ?? PotParameters.Default,
                Before = known is null ? null : PotModels.FilledWith(setup, PotModels.NominalFeed(want), known),
                Climate = new PotClimate(),
                FeedMolPerKgWater = PotModels.NominalFeed(want),
                Days = pot.FeedEveryDays,
                RootPH = want.RootPH,
                Strengths = [1],
            });
            var ideal = Math.Round(advice.PourPH.Ideal, 2);
            return new Band(
                Math.Round(Math.Min(advice.PourPH.Low, ideal - NarrowestHalfBand), 2), ideal, Math.Round(Math.Max(advice.PourPH.High, ideal + NarrowestHalfBand), 2));
        }
        catch (Exception refused) when (refused is PotInputException or EntryException)
        {
            return For(want, pot, known).Band; // a medium without values: common practice has to do
        }
    });

    // A tenth of a logarithm either way moves the pH to pour at by less than a pen can tell, and every reading moves the traits by less than that.
    private static string Key(Want want, PotRow pot, FittedPot? known) =>
        FormattableString.Invariant($"{FactJson.Write(want)}|{pot.Culture}|{pot.Medium}|{pot.MediumLitres:R}|{pot.ReservoirLitres:R}|{pot.FeedEveryDays}|")
        + (known is null ? "" : FormattableString.Invariant($"{string.Join(',', known.Traits.Where(trait => trait.Trait != PotTrait.Algae || pot.ReservoirLitres > 0).Select(trait => Tenths(trait)))}|{known.CapacityLeft.Value:0.0}"));

    private static string Tenths(FittedTrait trait) => (trait.Trait == PotTrait.RestingPH ? trait.Value.Value : Math.Log(trait.Value.Value)).ToString("0.0", System.Globalization.CultureInfo.InvariantCulture);
}
