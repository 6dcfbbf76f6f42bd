using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>Short cautions for a step of the card. Labels and local rules prevail.</summary>
internal static class Cautions
{
    public static IReadOnlyList<string> For(Product product)
    {
        var cautions = new List<string>();
        if (product.Hazards.HasFlag(Hazards.CorrosiveAcid))
        {
            cautions.Add("Acid into water, never the reverse. Gloves and goggles. Never with bleach. The label prevails.");
        }

        if (product.Hazards.HasFlag(Hazards.CorrosiveBase))
        {
            cautions.Add("Corrosive: gloves and goggles; into plenty of water, it warms. Never together with acid. The label prevails.");
        }

        if (product.Hazards.HasFlag(Hazards.Oxidiser))
        {
            cautions.Add("Oxidiser: keep from heat, paper and oil. The label prevails.");
        }

        if (product.Hazards.HasFlag(Hazards.Irritant))
        {
            cautions.Add("Irritates eyes and skin: gloves, no dust. The label prevails.");
        }

        return cautions;
    }
}
