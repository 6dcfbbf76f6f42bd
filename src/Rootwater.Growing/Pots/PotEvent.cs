using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>What may be done to a pot between feeds.</summary>
public enum PotEventKind
{
    /// <summary>Water or feed put into the reservoir; what it cannot hold runs off. Without a reservoir it is poured through the medium.</summary>
    TopUp,

    /// <summary>Plain water poured through from above until the salts are out; the run-off leaves the pot.</summary>
    Leach,

    /// <summary>The reservoir is emptied, then the feed is poured through from above and what runs through fills the reservoir.</summary>
    Refill,
}

/// <summary>One thing done to a pot.</summary>
/// <param name="Kind">What.</param>
/// <param name="Hour">When, hours after the start of the forecast.</param>
/// <param name="Litres">How much, litres (one litre is taken as one kilogram of water).</param>
/// <param name="MolPerKgWater">What was poured, closed totals, mol per kg of water.</param>
public sealed record PotEvent(PotEventKind Kind, double Hour, double Litres, ComponentAmounts MolPerKgWater);
