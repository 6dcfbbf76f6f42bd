using System.Globalization;
using Rootwater.Growing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Pages.Pots;

/// <summary>Figures of a fitted pot as its pages show them.</summary>
internal static class PotWords
{
    // Beyond this a factor's interval says only that nothing is known.
    private const double Unbounded = 50;

    /// <summary>"× 1.10 (0.80 to 1.50)", or "+0.30 (+0.10 to +0.50)" for the resting pH.</summary>
    public static string Trait(TraitLine trait, Expected value) => trait.IsFactor
        ? string.Create(CultureInfo.InvariantCulture, $"× {value.Value:0.00} ({value.Low:0.00} to {(value.High > Unbounded ? "any" : value.High.ToString("0.00", CultureInfo.InvariantCulture))})")
        : string.Create(CultureInfo.InvariantCulture, $"{value.Value:+0.00;-0.00} ({value.Low:+0.00;-0.00} to {value.High:+0.00;-0.00})");
}
