using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Desks;

/// <summary>The pH to pour at.</summary>
internal static class PourPHs
{
    /// <summary>
    /// A pot that wicks through clay lifts what is poured, so it is poured lower than the roots' window; elsewhere at the window's lower half.
    /// Common practice, no source.
    /// </summary>
    public static (Band Band, string From) For(Want want, Culture culture) => culture == Culture.Wicking
        ? (new Band(5.6, 5.8, 6.0), "common practice for wicking pots: they lift it to the roots' window within days")
        : (new Band(want.RootPH.Low, Math.Min(want.RootPH.Ideal, want.RootPH.Low + 0.2), want.RootPH.Ideal), "the roots' window: this culture lifts it little");
}
